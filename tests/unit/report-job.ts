/** The demo job with an invented record of every kind, no two of its figures alike where a page could mix them up. */
import demo from '../../shared/examples/hatchback.job.json' with { type: 'json' };
import type { Job, JobRecord } from '../../src/job/document.ts';
import { parseJob } from '../../src/job/read-job.ts';
import { type RecordKind, record } from '../../src/job/records.ts';
import { gainRecord } from './job-records.ts';
import { crossoverOf, gainOf, levelOf, sourceOf } from './station-records.ts';

function of(kind: RecordKind, id: string, result: object): JobRecord {
  const { at, conditions } = gainRecord(id);
  return record.parse({ kind, id, at, conditions, result });
}

const WIRE = { metres: 5.5, areaMm2: 21.2, material: 'copper' };
const tone = (frequencyHz: number) => ({ frequencyHz, levelDbfs: -5 });
const heard = (levelDbfs: number, volts: number) => ({ levelDbfs, volts, thdPercent: 0.031 });
const measured = { grade: 'valid', doubts: [], findings: [] };

/** A knee: distortion flat, then up within a fraction of a decibel. */
function trace(kneeVolts: number) {
  return Array.from({ length: 60 }, (_, index) => {
    const volts = kneeVolts * (0.55 + index * 0.0085);
    const over = Math.max(0, volts / kneeVolts - 1);
    return {
      turn: 0,
      volts,
      levelDbfs: 20 * Math.log10(volts / 35),
      thdPercent: 0.02 + 400 * over ** 1.5,
      verdict: over > 0 ? ('clipped' as const) : ('clean' as const),
    };
  });
}

function response(highPassHz: number | null, lowPassHz: number | null) {
  const frequenciesHz = Array.from({ length: 120 }, (_, index) => 15 * 2 ** (index / 11.5));
  const magnitudesDb = frequenciesHz.map((hertz) => {
    const low = highPassHz === null ? 0 : -20 * Math.log10(1 + (highPassHz / hertz) ** 4);
    const high = lowPassHz === null ? 0 : -20 * Math.log10(1 + (hertz / lowPassHz) ** 4);
    return low + high;
  });
  return {
    frequenciesHz,
    magnitudesDb,
    phasesDeg: frequenciesHz.map(() => 0),
    uncertaintiesDb: frequenciesHz.map(() => 0.1),
  };
}

const octaves = (shift: number) =>
  [31.5, 63, 125, 250, 500, 1000, 2000, 4000, 8000, 16_000].map((nominalHz, index) => ({
    nominalHz,
    levelDbfs: -118.3 + shift + 2 * Math.cos(index * 2.1),
    floorDbfs: -119.4 + shift,
    uncertaintyDb: 0.2,
  }));

const engineState = (engine: string, rpm: number | null, shift: number) => ({
  ...{ engine, rpm, seconds: 12.5, levelDbfs: -108.21 + shift, levelDbv: -77.3 + shift },
  ...{ floorDbfs: -109.13 + shift, aWeightedDbfs: -112.4 + shift, aWeightedDbv: -81.6 + shift },
  ...{ octaves: octaves(shift), clicks: 0, dropouts: 0, grade: 'valid', doubts: [] },
});

const arrived = (channelId: string, arrivalMs: number) => ({
  ...{ channelId, arrivalMs, uncertaintyMs: 0.012, delayMs: 3.37 - arrivalMs },
  ...{ delayCm: 34.4 * (3.37 - arrivalMs), delayInches: 13.5 * (3.37 - arrivalMs) },
});

const polarity = (channelId: string, isReversed: boolean) => ({
  channelId,
  verdict: isReversed ? 'reversed' : 'normal',
  read: isReversed ? 'inverted' : 'upright',
  confidence: 0.998,
  signalToNoiseDb: 41.7,
});

const leg = (ohms: number) => ({
  ...{ wire: WIRE, ohms, ohmsUncertainty: 0.00021, wireLowOhms: 0.0043, wireHighOhms: 0.0051 },
  ...{ restOhms: 0.0012, verdict: 'good' },
});

const vehicle: JobRecord[] = [
  of('input', 'input-1', {
    ...{ way: 'wire', verdict: 'honest', toneHz: 997.3, clockPpm: 31.7 },
    steps: [-40, -30, -20].map((askedDbfs) => ({
      ...{ askedDbfs, levelDbfs: askedDbfs + 12.34, uncertaintyDb: 0.004, creepDb: 0.01 },
    })),
    ...{ stepErrorsDb: [0.02, -0.03], noiseUnderToneDbfs: -96.1, noiseInPauseDbfs: -97.2 },
    ...{ cutOffHz: 21_537, doubts: [], findings: [] },
  }),
  sourceOf('source-1', {
    steps: [20, 25, 30, 33].map((step) => ({
      ...{ step, levelDbfs: step - 42.17, volts: 1.73 * 10 ** ((step - 30) / 20), thdPercent: 0.023 },
      ...{
        verdict: step > 30 ? ('clipped' as const) : ('clean' as const),
        overdriveDb: step > 30 ? 1.37 : null,
      },
      ...{ bassDb: -0.7, trebleDb: 0.3, bassVerdict: 'clean' as const },
    })),
    ceilingVolts: 1.73,
    kneeVolts: 2.09,
    bassCutFromStep: 25,
    bassCutAtCeilingDb: 2.9,
  }),
  of('load', 'load-1', {
    ...{ side: 'left', step: 24, tones: { middle: tone(997), bass: tone(45), treble: tone(8000) } },
    connected: { middle: heard(-14.56, 3.21), bass: heard(-15.67, 3.11), treble: heard(-16.78, 3.01) },
    off: { middle: heard(-14.61, 3.19), bass: heard(-15.72, 3.09), treble: heard(-16.83, 2.99) },
    change: { levelDb: -0.05, bassDb: 0.04, trebleDb: 0.06 },
    ...{ sensesLoad: false, ...measured },
  }),
  of('sides', 'sides-1', {
    ...{ point: 'converter', input: 'two-channel', tone: tone(997) },
    heardDbfs: { left: { left: -13.1, right: null }, right: { left: null, right: -13.2 } },
    ...{ verdict: 'right', separationDb: null, separationAtLeastDb: 71.4, balanceDb: 0.13, ...measured },
  }),
  of('turn-on', 'turn-on-1', {
    ...{ step: 24, toneHz: 997, keepAliveHz: 21.5, toneDbfs: -5 },
    silences: [{ seconds: 20, lostSeconds: 0, slept: false }],
    keepAlive: [{ levelDbfs: -60, seconds: 30, held: true, lostSeconds: 0, goneAfterSeconds: null }],
    ...{ sleeps: true, sleepsWithinSeconds: 47, awakeForSeconds: 20, holdingDbfs: -60, ...measured },
  }),
];

const GAINS = [
  ['front-left', 17.31, 18.44],
  ['front-right', 17.18, 18.12],
  ['rear-left', 14.07, 15.16],
  ['rear-right', 14.23, 15.38],
  ['subwoofer', 31.42, 33.57],
] as const;

const gains = GAINS.map(([channelId, volts, kneeVolts]) => {
  const { knee } = gainRecord('x').result;
  return gainOf(`gain-${channelId}`, {
    ...{ channelId, volts, voltsUncertainty: volts * 0.0057, errorDb: 20 * Math.log10(volts / 17.32) },
    ...{ targetVolts: 17.32, aimVolts: 17.32, inside: Math.abs(20 * Math.log10(volts / 17.32)) < 0.5 },
    knee: knee === null ? null : { ...knee, volts: kneeVolts },
    marginDb: 20 * Math.log10(kneeVolts / 17.32),
    trace: trace(kneeVolts),
  });
});

const filters = GAINS.map(([channelId], index) => {
  const isSub = channelId === 'subwoofer';
  const cutoffHz = 80.37 + index;
  const { highPass, lowPass } = crossoverOf('x', cutoffHz).result;
  return crossoverOf(`filter-${channelId}`, cutoffHz, {
    channelId,
    ...(isSub ? { highPass: lowPass, lowPass: highPass } : {}),
    curve: isSub ? response(null, cutoffHz) : response(cutoffHz, null),
  });
});

const balance: JobRecord[] = [
  levelOf('level-1', {
    pairs: [
      {
        leftId: 'front-left',
        rightId: 'front-right',
        differenceDb: 0.27,
        uncertaintyDb: 0.041,
        inside: true,
      },
      {
        leftId: 'rear-left',
        rightId: 'rear-right',
        differenceDb: -0.83,
        uncertaintyDb: 0.043,
        inside: false,
      },
    ],
    worstDifferenceDb: -0.83,
    inside: false,
  }),
  of('polarity', 'polarity-1', {
    turnedOver: false,
    channels: [polarity('front-left', false), polarity('rear-right', true)],
    inside: false,
    findings: [
      {
        fault: 'channel-reversed',
        sentence: 'Rear right door is the other way up.',
        evidence: 'Its pulse fits upside down, 99.8 % sure.',
        remedy: 'Swap plus and minus at the driver or at the amplifier.',
      },
    ],
  }),
  of('arrival', 'arrival-1', {
    ...{ airCelsius: 21.5, toleranceMs: 0.1, skewPpm: -38.6, skewUncertaintyPpm: 0.7 },
    channels: [arrived('front-left', 0), arrived('front-right', 0.87), arrived('subwoofer', 3.37)],
    ...{ latestId: 'subwoofer', worstDifferenceMs: 3.37, inside: false, findings: [] },
  }),
];

const quiet: JobRecord[] = [
  of('noise', 'noise-1', {
    ...{ channelId: 'front-left', place: 'terminals', targetVolts: 17.32 },
    states: [engineState('off', null, 0), engineState('idle', 820, 1.9), engineState('revved', 2510, 3.2)],
    rises: [{ engine: 'idle', octaves: [{ nominalHz: 1000, riseDb: 1.9, uncertaintyDb: 0.28 }] }],
    ...{ worstEngine: 'revved', belowTargetDb: 98.9, belowTargetUncertaintyDb: 0.11, toleranceDb: 70 },
    ...{ inside: true, ripple: null, steadyTones: [], findings: [] },
    hum: {
      ...{ nominalHz: 50, fundamentalHz: 50.013, uncertaintyHz: 0.002, levelDbfs: -117.6, overFloorDb: 8.4 },
      ...{ strongestOrder: 2, heardIn: ['off'], wayIn: 'signal-lead', lossUnpluggedDb: 7.9 },
    },
  }),
  of('supply', 'supply-1', {
    ...{ amplifierId: 'mono', meter: { percentOfReading: 0.5, digits: 2 } },
    readings: {
      'ground-leg': { restVolts: 0.004, toneVolts: 0.061, voltsPerDigit: 0.001 },
      amplifier: { restVolts: 12.61, toneVolts: 12.23, voltsPerDigit: 0.01 },
      battery: { restVolts: 12.66, toneVolts: 12.45, voltsPerDigit: 0.01 },
    },
    current: { from: 'clamp', restAmperes: 1.2, toneAmperes: 14.3, amperesPerDigit: 0.1 },
    ...{ riseAmperes: 13.1, riseAmperesUncertainty: 0.19, groundDropVolts: 0.057, groundVolts: 0.1 },
    ...{ ground: leg(0.00435), positive: leg(0.01145), batterySagVolts: 0.21, inside: true, findings: [] },
  }),
];

const partAt = (channel: string, recordedChannel: number, id: string) => ({
  ...{ id, kind: 'sine', channel, recordedChannel, serves: [channel], playedHz: 997 },
  ...{ pass: true, verdict: 'passed', why: '' },
});

const proof: JobRecord[] = [
  of('check', 'check-1', {
    ...{ recording: 'run-of-april.wav', track: 'run.wav', at: ['front-left', 'front-right'] },
    ...{ voltsPerFs: 34.1, voltsUncertaintyDb: 0.051, missing: ['noise-left'], pass: false },
    markers: {
      ...{ found: true, startSeconds: 2.71, clockSkewPpm: 41.9, clockSkewUncertaintyPpm: 0.33 },
      ...{ startFound: true, endFound: true, skewFrom: 'markers' },
    },
    parts: [
      {
        ...partAt('front-left', 0, 'front-left-level'),
        playedDbfs: -5.1,
        reading: { levelVolts: 17.282, levelDbfs: -5.903, levelUncertaintyDb: 0.0031, clipping: 'clean' },
        limits: { targetVolts: 17.321, toleranceDb: 0.5 },
      },
      {
        ...partAt('front-right', 1, 'front-right-level'),
        ...{ playedDbfs: -5.1, pass: false, verdict: 'failed', why: 'Front right door clips by 1.4 dB.' },
        reading: { levelVolts: 15.047, levelDbfs: -7.106, levelUncertaintyDb: 0.0042, clipping: 'clipped' },
        limits: { targetVolts: 17.321, toleranceDb: 0.5 },
      },
      {
        ...partAt('front-left', 0, 'noise-left'),
        ...{ kind: 'pink', playedHz: null, playedDbfs: -20, pass: false, verdict: 'missing' },
        ...{ why: 'The recording ends before it.', reading: {}, limits: {} },
      },
    ],
    faults: [
      {
        ...{ fault: 'clipped', channel: 'front-right', parts: ['front-right-level'] },
        sentence: 'Front right door clips by 1.4 dB.',
        evidence: 'Both half-waves are flat for 21 % of the period.',
        remedy: 'Turn back by 1.4 dB, at the stage that clips, and check again.',
      },
    ],
  }),
];

/** @param bent what a test is about */
export function reportJob(bent: Partial<Job> = {}): Job {
  return {
    ...parseJob(demo),
    records: [...vehicle, ...gains, ...filters, ...balance, ...quiet, ...proof],
    ...bent,
  };
}
