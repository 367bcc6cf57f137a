export const REPORT_HELP = `
Usage: kneepoint report JOB.json --out FILE.html [--csv FILE.csv] [--sign-off ID] [--json]

Writes the report of a job as one page that needs nothing else: plan against reading with
tolerance and uncertainty, knee traces, responses, balance, noise, supply and ground, conditions,
instruments, who signed, cautions. It opens from disk without a network and prints on A4 and
Letter. The app makes the same page from the same job, byte for byte.

  --out FILE      the page; a file that is already there is never replaced
  --csv FILE      also every figure of every record, one on a row
  --sign-off ID   the job as it was signed, instead of as it is now
  --json          prints the report's contents as one JSON document instead of a table

A job that was altered after it was signed is refused.

Columns
  check     what the job asks for
  state     inside, out of tolerance, stale (something it stands on changed since), not done
  measured  when its newest record was accepted, in UTC
  why       why it is not inside

Columns of the CSV
  number, record              which record: its number on the page, and its id in the job
  kind, at, channel           what it is of, and when it was accepted
  figure       its place in the record; its unit ends its name
  value        as the job holds it; empty where it was not measured
  uncertainty  standard uncertainty (k = 1), in the unit that uncertainty_name ends in

Exit status: 0 written, and nothing is out of tolerance (what is stale or not done is told in
the table); 1 written, and something is out of tolerance; 2 the job or the arguments are
unusable, and nothing is written.
`;
