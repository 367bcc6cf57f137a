export const CHECK_HELP = `
Usage: kneepoint check FILE.wav ... --manifest FILE.json [--job JOB.json] [--at POINT[,POINT...]]
                       [--volts-per-fs V] [--csv FILE] [--json]

Checks a vehicle from a recording of the run track: finds its markers, takes the clocks' difference
out, reads every part, and judges it for the point that it was recorded at. The recording may begin
early or late and end early, at any gain, sample rate and coding; parts that it does not hold are
named as missing, and one marker is enough. Several recordings are read on all cores.

  --manifest FILE.json  of the tone set whose run track was played
  --job JOB.json        says what is wanted: targets, filters, tolerances; without it levels are only
                        compared with each other, and filters only named
  --at POINT[,POINT]    for each channel of the recording: the job's channel at whose terminals it was
                        taken, "cabin" for a microphone (the default), "none" for an open lead;
                        the same for every file. Without a job and with the general tone set, "left"
                        or "right" as a word of the name says which side feeds the point
  --volts-per-fs V      a full-scale sine in the file is V volts RMS at the measured points; without
                        it levels are held against each other and not against targets
  --csv FILE            also writes one row for each part of each file
  --json                one JSON document instead of tables

Columns
  part, channel   the part of the run track, and the point it was read at
  result          pass, FAIL, not judged (read, but nothing to hold it against), missing
  reading         the figures that the part is for
  why             what is wrong, or why it could not be judged

Judged at terminals: level against target (or its pair), clipping with the overdrive, polarity,
filters, bass that is missing ahead of them, noise below the target with hum and steady tones by
their frequency, whether levels step as played, dead or swapped channels. One track does not tell
which stage clips, nor a whine from another steady tone: the remedy says which station does. By
microphone: clipping, polarity of what one side plays together, sides that differ by more than
6 dB, silent channels, an input that changes levels; noise, response and the polarity of each
single channel are read and not judged.

With --json one file gives one report (markers, parts, missing, faults, pass); several give
files, a list of reports with their file, and pass. verdict says passed, failed, not-judged or
missing; pass is false where it failed or is missing. What could not be measured is null.

Exit status: 0 everything passed; 1 something failed or is missing; 2 a file or an argument is
unusable, and nothing is printed.
`;
