import type { StepsSpec } from '../tones/spec.ts';
import { copyFinding } from './channel-copies.ts';
import { cutOff, cutOffFinding } from './cut-off.ts';
import { imageFinding } from './image-lines.ts';
import type { InputFigures, InputFinding, InputJudgement, InputTrial, StepReading } from './judgement.ts';
import { levelFindings } from './level-findings.ts';
import { type LocatedSteps, locateSteps, type Stretch } from './locate-steps.ts';
import { type BesideTone, noiseBesideTone } from './noise-beside-tone.ts';
import { pauseFindings } from './pause-findings.ts';
import { readStep, toneFrequency } from './step-readings.ts';

/** Two plain clocks differ by at most some 200 ppm; more is a rate that is wrong or being pulled. */
const CLOCK_PPM = 300;

/**
 * Judges an input by what it does to a stepped tone and to the pauses around it. What a browser or a driver
 * says of itself does not enter. The path's gain, its clock and its noise may be anything; levels must step
 * as asked within 0.2 dB and hold still, noise must stay when the tone goes and reach the top of the band,
 * channels must be two.
 *
 * A fault that leaves no trace in this recording (echo cancelling while the player is another device; a
 * band limit below noise that is added later) is not found. `raw` says that nothing was.
 *
 * @throws RangeError where there are no channels, their lengths differ, or the steps are fewer than two
 */
export function judgeInput(trial: InputTrial): InputJudgement {
  checkTrial(trial);
  const { channels, sampleRateHz, steps } = trial;
  const samples = loudest(channels);
  const located = locateSteps(samples, sampleRateHz, steps);
  const loudestStep = steps.levelsDbfs.indexOf(Math.max(...steps.levelsDbfs));
  const frequencyHz =
    located === null
      ? null
      : toneFrequency(samples, sampleRateHz, located.steps[loudestStep]!, steps.frequencyHz);
  if (located === null || frequencyHz === null) return { verdict: 'not-proven', findings: [], figures: null };
  const noise = noises(samples, sampleRateHz, located, steps);
  const readings = steps.levelsDbfs.map((askedDbfs, step) =>
    readStep(samples, sampleRateHz, located.steps[step]!, {
      askedDbfs,
      frequencyHz,
      noise: noise.underEach[step] ?? null,
    }),
  );
  const figures = figuresOf(trial, located, frequencyHz, readings, noise);
  const findings = [
    ...levelFindings(readings, figures.stepErrorsDb),
    ...noiseFindings(samples, sampleRateHz, located, noise, readings),
    imageFinding(noise.underLoudest, noise.inPause, sampleRateHz, {
      frequencyHz,
      levelDbfs: readings[loudestStep]!.levelDbfs,
    }),
    cutOffFinding(figures.cutOffHz, sampleRateHz),
    clockFinding(figures.clockPpm),
    copyFinding(channels, located.pauses),
  ].filter((finding) => finding !== null);
  const once = findings.filter(
    (finding, at) => findings.findIndex((other) => other.fault === finding.fault) === at,
  );
  return { verdict: once.length > 0 ? 'processed' : 'raw', findings: once, figures };
}

interface Noises {
  underEach: (BesideTone | null)[];
  underSoftest: BesideTone;
  underLoudest: BesideTone;
  softest: number;
  inPause: BesideTone | null;
}

function noises(
  samples: Float32Array | Float64Array,
  sampleRateHz: number,
  located: LocatedSteps,
  { levelsDbfs, frequencyHz }: StepsSpec,
): Noises {
  const underEach = located.steps.map((step) => noiseBesideTone(samples, sampleRateHz, step, frequencyHz));
  const softest = levelsDbfs.indexOf(Math.min(...levelsDbfs));
  const loudestStep = levelsDbfs.indexOf(Math.max(...levelsDbfs));
  const pause = located.pauses.reduce<Stretch | null>(
    (a, b) => (a === null || b.to - b.from > a.to - a.from ? b : a),
    null,
  );
  // The pause's later half: a gate has closed by then.
  const late = pause === null ? null : { from: Math.floor((pause.from + pause.to) / 2), to: pause.to };
  return {
    underEach,
    underSoftest: underEach[softest]!,
    underLoudest: underEach[loudestStep]!,
    softest,
    inPause: late === null ? null : noiseBesideTone(samples, sampleRateHz, late, null),
  };
}

function noiseFindings(
  samples: Float32Array | Float64Array,
  sampleRateHz: number,
  located: LocatedSteps,
  noise: Noises,
  readings: readonly StepReading[],
): InputFinding[] {
  const { askedDbfs, levelDbfs } = readings[noise.softest]!;
  return pauseFindings(samples, sampleRateHz, {
    pauses: located.pauses,
    underTone: noise.underSoftest,
    inPause: noise.inPause,
    askedDbfs,
    levelDbfs,
  });
}

function figuresOf(
  { steps }: InputTrial,
  located: LocatedSteps,
  frequencyHz: number,
  readings: StepReading[],
  noise: Noises,
): InputFigures {
  return {
    startSeconds: located.startSeconds,
    frequencyHz,
    clockPpm: (frequencyHz / steps.frequencyHz - 1) * 1e6,
    steps: readings,
    stepErrorsDb: readings
      .slice(1)
      .map(
        (step, at) => step.levelDbfs - readings[at]!.levelDbfs - (step.askedDbfs - readings[at]!.askedDbfs),
      ),
    noiseUnderToneDbfs: noise.underSoftest.levelDbfs,
    noiseInPauseDbfs: noise.inPause?.levelDbfs ?? null,
    cutOffHz: cutOff(noise.underSoftest.spectrum),
  };
}

function clockFinding(clockPpm: number): InputFinding | null {
  if (Math.abs(clockPpm) <= CLOCK_PPM) return null;
  return {
    fault: 'clock-error',
    evidence: `The tone comes back ${Math.abs(clockPpm).toFixed(0)} ppm ${clockPpm > 0 ? 'high' : 'low'}: more than two clocks differ by, so the sample rate is wrong or being pulled.`,
  };
}

function loudest(channels: readonly (Float32Array | Float64Array)[]): Float32Array | Float64Array {
  const power = (channel: Float32Array | Float64Array) => {
    let sum = 0;
    for (const x of channel) sum += x * x;
    return sum;
  };
  return channels.reduce((a, b) => (power(b) > power(a) ? b : a));
}

function checkTrial({ channels, steps }: InputTrial): void {
  if (channels.length === 0 || channels.some((channel) => channel.length !== channels[0]!.length)) {
    throw new RangeError('An input is judged by one or more channels of one length.');
  }
  if (steps.levelsDbfs.length < 2 || steps.stepSeconds < 1) {
    throw new RangeError('An input is judged by two or more steps of at least a second each.');
  }
}
