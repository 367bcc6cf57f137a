export const MEASURE_HELP = `
Usage: kneepoint measure FILE.wav ... [--volts-per-fs V] [--from S] [--to S] [--band LO:HI] [--json]

Measures every channel of every file: level, steady tone, distortion, clipping.
Files are WAV (RIFF, RF64, BW64): PCM of 8, 16, 24 or 32 bits or float, 8 to 192 kHz,
any number of channels. They are read as a stream, so length does not matter.

  --volts-per-fs V  a full-scale sine in the file is V volts RMS at the measured point;
                    without it no volts are given
  --from S, --to S  measure from and to these seconds only
  --band LO:HI      band in hertz over which distortion and noise are summed
                    (default 20:20000, or up to half the sample rate where that is lower)
  --json            one JSON document instead of tables

Columns
  channel         first channel is 0
  level dBFS, V   RMS of the whole signal without DC; a full-scale sine is 0 dBFS (AES17)
  peak dBFS       highest sample against full scale 1.0
  true peak dBTP  highest point of the wave between samples (ITU-R BS.1770)
  crest dB        peak over RMS
  DC              mean of the samples, share of full scale
  tone Hz, dBFS, V   the steady tone found by sine fit; - where none stands out
  THD %           all harmonics inside the band, against the fundamental
  THD+N %         all but the fundamental inside the band, against the total (AES17)
  noise dBFS      what is left inside the band without tone and harmonics
  clipping        clean, clipped, input-overload (the recording itself hit full scale)
                  or undecided; the side where one alone is flattened
  over dB         how far the limiting stage was driven past its ceiling: turn back by this much

A column that holds nothing in any row is left out. With --json each file also has:
measured (the stretch), each tone its harmonicsDbc (2nd harmonic first), sinadDb and the
standard uncertainty (k = 1) of each of its figures from noise and fit, calibration not
in it; each channel the level (kneeDbfs, kneeVolts) of the largest clean sine with the
uncertainty of it and of the overdrive, the shape of the ceiling (hard, soft, slew,
current) and compressionDb, what the fundamental lacks. What could not be measured is null.

Exit status: 0 measured; 2 a file or an argument is unusable, and nothing is printed.
`;
