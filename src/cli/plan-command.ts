import { readArguments } from './arguments.ts';
import type { Command } from './command.ts';
import { fromJobFile } from './job-file.ts';
import { jobFigures } from './plan/job-figures.ts';
import { jobPlanJson, targetJson } from './plan/plan-json.ts';
import { jobPlanText, targetText } from './plan/plan-text.ts';
import { readTarget, type TargetWords } from './plan/single-target.ts';
import { UsageError } from './usage-error.ts';

const HELP = `
Usage: kneepoint plan --watts W --ohms R [--overlap DB] [--tone DB] [--json]
       kneepoint plan JOB.json [--json]

Works out what each channel should read once its gain is right: V = sqrt(W * R).

  --watts W     clean continuous power: the smaller of the amplifier's rating at
                the wired load and what the drivers take
  --ohms R      nominal load as wired, taken as written; a fraction such as 4/3
                is the exact load of three 4 ohm drivers in parallel
  --overlap DB  gain overlap, 0 to 60: a tone at minus this level reaches the target (default 0)
  --tone DB     level of the setting tone against full scale; -20 and 20 both
                mean 20 dB below it (default 0)
  --json        one JSON document instead of a table

Columns
  load ohm      net load of the wired drivers
  amplifier W   clean power at that load from the stated ratings; - where they say nothing
  drivers W     most the drivers take with the hardest worked one inside its rating
  limited by    whichever of the two is smaller, and sets the target
  target V      volts RMS of the clean power into the load; peak V and dBV say the same
  overlap dB    the gain overlap the channel is set with
  tone Hz, tone dBFS   the setting tone
  tone reads V  volts RMS that tone must read: target V * 10^((overlap + tone) / 20),
                less what a summed input loses where not all of its inputs carry the tone

Columns of a job's wiring
  class         output stage, AB or D; "AB taken" where the job does not say
  all channels W   clean power of all channels at their wired loads at once
  full sine A   current from the supply while they all carry a sine of that power
  music A       long-term average of loud music: an eighth of the power
  supply drop V, ground drop V   what each wire drops at the full sine, at 20 degrees C
  allowed V     allowed for both wires together (the job's tolerances)
  advised wire  thinnest size sold that keeps the drop and carries the current
  fuse A, fuse at most A   the fuse noted, and the largest that protects the wire noted
  speaker wire, mohm   the run's resistance, out and back
  loss dB, damping under   level it costs, and the damping factor it leaves at most

In a job, a load printed as a rounded third of an ohm (1.33, 2.67) means the third
exactly (4/3, 8/3). Between two stated loads the amplifier's power is interpolated
as that of a voltage source behind a resistance, and a warning says so; above the
highest stated load its voltage there is taken as a lower bound; below the lowest
nothing is said and the channel has no target.

Exit status: 0 every channel has a target, warnings or not; 1 a channel has no
target, its load is under the amplifier's minimum, or it is bridged where the maker
forbids it; 2 the input or the arguments are unusable, and nothing is printed on
standard output.
`;

const OPTIONS = {
  watts: { type: 'string' },
  ohms: { type: 'string' },
  overlap: { type: 'string' },
  tone: { type: 'string' },
  json: { type: 'boolean' },
} as const;

const DONE = 0;
const OUT_OF_TOLERANCE = 1;

/** @throws UsageError where the input or the arguments are unusable; nothing has been printed then */
async function runPlan(args: string[]): Promise<number> {
  const { values, positionals } = readArguments('plan', args, OPTIONS);
  const asJson = values.json ?? false;
  const [file, ...more] = positionals;
  if (file === undefined) {
    const target = readTarget(values);
    process.stdout.write(asJson ? targetJson(target) : targetText(target));
    return DONE;
  }
  refuseMixture(file, more, values);
  const plan = await fromJobFile(file, jobFigures);
  process.stdout.write(asJson ? jobPlanJson(plan) : jobPlanText(plan));
  return plan.pass ? DONE : OUT_OF_TOLERANCE;
}

function refuseMixture(file: string, more: string[], words: TargetWords): void {
  if (more.length > 0) {
    throw new UsageError(`${[file, ...more].join(' ')}: plan takes one job file at a time.`);
  }
  const { watts, ohms, overlap, tone } = words;
  const given = Object.entries({ watts, ohms, overlap, tone }).find(([, text]) => text !== undefined);
  if (given !== undefined) {
    throw new UsageError(
      `--${given[0]} does not go with a job file: ${file} holds its own; give the one or the other.`,
    );
  }
}

export const planCommand: Command = {
  name: 'plan',
  summary: 'target voltages, loads and warnings, of one channel or of a job',
  help: HELP,
  run: runPlan,
};
