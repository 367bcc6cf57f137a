export const RESPONSE_HELP = `
Usage: kneepoint response FILE.wav --manifest FILE.json [--reference FILE.wav] [--track ID] [--json]

Magnitude response of each channel out of a recorded sweep, and the filters in it.
The recording may begin before the sweep or a little after, at any gain and either polarity,
at any sample rate of its own; the sweep is found in it.

  --manifest FILE.json  the tone set that was played: its sweep tracks say what to look for
  --reference FILE.wav  the same sweep recorded ahead of what is measured (same sample rate,
                        one channel or as many): its response is divided out
  --track ID            the sweep to look for; without it, of the manifest's different sweeps
                        the one that stands out most (tracks with one sweep count as one)
  --json                one JSON document instead of tables

Columns
  Hz              centre of the third octave
  level dB        its mean power; without a reference, 0 dB is as loud as the manifest's sweep
  H2, H3 dBc      2nd and 3rd harmonic against the fundamental, at the frequency played
  - stands where noise hides the reading.

Filters: high-pass and low-pass, Butterworth, Linkwitz-Riley or Bessel, orders 1 to 8, both at
once for a band. The corner is at -3 dB, for Linkwitz-Riley at -6 dB; Bessel corners are
normalised to -3 dB. A Bessel of order 1 is a Butterworth; Linkwitz-Riley of order 2M is two
Butterworths of order M. Slopes are the 6 dB per octave and order that are reached far from
the corner. Where no such filter explains the response within 0.5 dB rms, none is named, and
where two do, alignment or order is left open (null), and with an open alignment the corner is
the -3 dB point. Looked at up to 15 kHz only: converters and lossy coding shape what is above.

With --json each channel also has: sweepStartSeconds (phases are counted from there, so the
delay is off them), clockSkewPpm (off them too; recorder against player), uncertaintiesDb,
fittedFromHz, fittedToHz, verdict (filters, flat, none of these) and residualDb of the best
fit, harmonics (order, levelsDbc at the same frequencies). What could not be measured is null;
a channel without the sweep has empty lists and the verdict null.

Exit status: 0 measured; 2 a file or an argument is unusable, or no channel holds the sweep.
`;
