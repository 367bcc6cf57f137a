export const TONES_HELP = `
Usage: kneepoint tones --out DIR [--job JOB.json] [--rate HZ] [--bits 16|24] [--flac] [--json]

Renders the tone set: stereo WAV files to play from a memory stick or a phone, and
manifest.json, which says what each of them holds. The folder is made if it is
missing; a file that is already there is never replaced. When anything fails,
nothing is left behind.

  --out DIR   folder for the files
  --job FILE  job whose channels, tones and sides the set is made for; without it,
              the general set
  --rate HZ   sample rate, a whole number from 8000 to 192000 (default 44100)
  --bits N    16 (default) or 24 bits a sample
  --flac      writes every track a second time as FLAC: the same samples, bit for bit,
              in fewer bytes
  --json      prints the manifest instead of a table

Columns
  file      in the order of the work
  kind      sine, steps, silence, pink, sweep, polarity, identification or run
  channels  side that carries the tone; the other holds exact zeros
  tone      frequency, or lowest and highest, in hertz
  level     RMS against a full-scale sine, dBFS; of polarity pulses the peak; a run
            track's parts, each with its place and level, are in the manifest
  seconds   how long it lasts

The last track is the run track: one file that checks a whole vehicle, from one
recording of it ("kneepoint check --help"). Rates below 16000 Hz cannot hold it.

Levels are exact to 0.001 dB. Samples carry triangular dither, so that nothing but
white noise (-93.3 dBFS at 16 bits) is added. The same job gives the same files, bit
for bit.

Test tones at full power heat voice coils within seconds and harm hearing: start
with the volume down, or with the drivers disconnected.

Exit status: 0 rendered; 2 an argument or the job is unusable, and nothing is written.
`;
