/**
 * A gain turned by hand, as samples through the live analyser: unevenly, back and forth, with rests. The curve
 * works at eight times the sample rate, so that nothing folds back.
 */
import { LiveAnalyser } from '../../src/dsp/live/live-analyser.ts';
import { WindowAnalyser } from '../../src/dsp/measure/window-analyser.ts';
import { AUDIO_BAND, type Clipping, type ToneReading } from '../../src/dsp/reading.ts';
import { seededGauss, seededUniform } from './seeded-random.ts';

const RATE_HZ = 48_000;
const OVERSAMPLING = 8;
const BLOCK = 1200;
/** Ceiling of the curves below, full scale 1. */
const CEILING = 0.25;

export const hard = (x: number) => Math.max(-1, Math.min(1, x));

export interface Heard {
  /** Drive re the ceiling at the middle of the window, dB. */
  driveDb: number;
  /** Levels re a sine at the ceiling. */
  tone: ToneReading;
  clipping: Clipping;
}

export interface Turn {
  /** Saturates at +-1. */
  curve: (x: number) => number;
  /** What comes behind the stage, on the same scale. */
  after?: (x: number) => number;
  room?: Float32Array;
  toneHz: number;
  seed: number;
  /** Of a sine at the ceiling against noise over half the sample rate. */
  snrDb: number;
  /** Drives re the ceiling that the hand goes to one after another, dB. */
  goalsDb: readonly number[];
}

/** Readings of one turn, those with a tone that the station would use. */
export function hear(turn: Turn): Heard[] {
  const { toneHz, seed, goalsDb } = turn;
  const drive = handTurned(goalsDb, seed);
  const stage = stageOf(turn);
  const live = new LiveAnalyser(
    { sampleRateHz: RATE_HZ, channelCount: 1, band: AUDIO_BAND, expectedHz: toneHz, warmUpSeconds: 0 },
    (frames, sampleRateHz) => new WindowAnalyser({ frames, sampleRateHz }),
  );
  const offsetDb = 20 * Math.log10(CEILING);
  const heard: Heard[] = [];
  const block = new Float32Array(BLOCK);
  for (let frame = 0; frame + BLOCK <= drive.length; frame += BLOCK) {
    for (let at = 0; at < BLOCK; at++) block[at] = stage(frame + at, 10 ** (drive[frame + at]! / 20));
    const facts = { emptyQuanta: 0, missedFrames: 0, notANumber: 0 };
    const reading = live.push({ sequence: frame / BLOCK, startFrame: frame, channels: [block], facts });
    const channel = reading?.channels[0];
    if (!reading || !channel?.tone || reading.grade === 'invalid') continue;
    const { clipping, tone } = channel;
    heard.push({
      driveDb: drive[Math.max(0, Math.round(reading.endFrame - reading.windowFrames / 2))]!,
      tone: { ...tone, levelDbfs: tone.levelDbfs - offsetDb },
      clipping: { ...clipping, kneeDbfs: clipping.kneeDbfs === null ? null : clipping.kneeDbfs - offsetDb },
    });
  }
  return heard;
}

/** Drive in dB for every frame: 0.5 to 4 dB/s, changing every 0.2 to 2 dB, with a rest now and then. */
function handTurned(goalsDb: readonly number[], seed: number): Float64Array {
  const uniform = seededUniform(seed);
  const drive: number[] = [];
  let now = goalsDb[0] ?? 0;
  const rest = (seconds: number) => {
    for (let frame = 0; frame < seconds * RATE_HZ; frame++) drive.push(now);
  };
  rest(0.4);
  for (const goal of goalsDb.slice(1)) {
    while (now !== goal) {
      const step = Math.sign(goal - now) * Math.min(Math.abs(goal - now), 0.2 + 1.8 * uniform());
      const frames = Math.ceil((Math.abs(step) / (0.5 * 8 ** uniform())) * RATE_HZ);
      const from = now;
      for (let frame = 1; frame <= frames; frame++) drive.push(from + (step * frame) / frames);
      now = Math.abs(goal - from - step) < 1e-9 ? goal : from + step;
      if (uniform() < 0.3) rest(0.1 + 0.4 * uniform());
    }
    rest(0.3);
  }
  return Float64Array.from(drive);
}

/** One sample of stage, driver, room and noise. */
function stageOf({ curve, after = (x) => x, room, toneHz, seed, snrDb }: Turn) {
  const gauss = seededGauss(seededUniform(seed + 999));
  const noise = (CEILING / Math.SQRT2) * 10 ** (-snrDb / 20);
  const lowPass = decimationFilter();
  const fine = new Float64Array(lowPass.length);
  const past = new Float64Array(room?.length ?? 1);
  let finest = 0;
  return (frame: number, amplitude: number): number => {
    for (let step = 0; step < OVERSAMPLING; step++) {
      const cycles = (toneHz * (frame + step / OVERSAMPLING)) / RATE_HZ;
      fine[finest % fine.length] = curve(amplitude * Math.cos(2 * Math.PI * (cycles - Math.floor(cycles))));
      finest++;
    }
    let limited = 0;
    for (let at = 0; at < fine.length; at++) limited += lowPass[at]! * fine[(finest + at) % fine.length]!;
    let sample = CEILING * after(limited);
    if (room !== undefined) {
      past[frame % past.length] = sample;
      sample = 0;
      for (let at = 0; at < past.length; at++) {
        sample += room[at]! * past[(frame - at + past.length) % past.length]!;
      }
    }
    return sample + noise * gauss();
  };
}

/** Blackman-windowed sinc, flat to 20 kHz. */
function decimationFilter(): Float64Array {
  const length = 24 * OVERSAMPLING + 1;
  const taps = Float64Array.from({ length }, (_, at) => {
    const x = (Math.PI * 0.92 * (at - (length - 1) / 2)) / OVERSAMPLING;
    const turn = (2 * Math.PI * at) / (length - 1);
    return (x === 0 ? 1 : Math.sin(x) / x) * (0.42 - 0.5 * Math.cos(turn) + 0.08 * Math.cos(2 * turn));
  });
  const sum = taps.reduce((total, tap) => total + tap, 0);
  return taps.map((tap) => tap / sum);
}

/** A cabin: direct sound, then noise that dies away by 60 dB in 0.06 s, with as much energy as the direct sound half. */
export function impulseResponse(seed: number): Float32Array {
  const gauss = seededGauss(seededUniform(seed + 77));
  return Float32Array.from({ length: 1200 }, (_, at) => {
    if (at === 0) return 1;
    return at < 40 ? 0 : 0.06 * gauss() * Math.exp((-6.9 * at) / (0.06 * RATE_HZ));
  });
}
