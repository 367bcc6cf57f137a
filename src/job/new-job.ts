import { settingToneHz } from '../plan/tone/setting-tone.ts';
import { JOB_FORMAT, JOB_VERSION, type Job, type JobAmplifier, type JobChannel } from './document.ts';
import { DEFAULT_TOLERANCES } from './tolerances.ts';

export type JobPreset = 'front-pair' | 'four-doors-and-subwoofer';

/** What can be started from, in general terms; every figure is there to be replaced by the data sheets'. */
export const JOB_PRESETS: readonly { preset: JobPreset; title: string; sentence: string }[] = [
  {
    preset: 'front-pair',
    title: 'Front pair',
    sentence: 'A two-channel amplifier on the front doors.',
  },
  {
    preset: 'four-doors-and-subwoofer',
    title: 'Four doors and a subwoofer',
    sentence: 'A four-channel amplifier on the doors, a mono amplifier on one subwoofer.',
  },
];

export interface NewJob {
  preset: JobPreset;
  id: string;
  /** ISO 8601, UTC. */
  at: string;
  title?: string;
}

/** A job to begin with. Its ratings are common sizes, not those of the parts at hand. */
export function newJob({ preset, id, at, title }: NewJob): Job {
  const front = [
    door('front-left', 'Front left door', 'left'),
    door('front-right', 'Front right door', 'right'),
  ];
  const rear = [door('rear-left', 'Rear left door', 'left'), door('rear-right', 'Rear right door', 'right')];
  const isFull = preset === 'four-doors-and-subwoofer';
  return {
    format: JOB_FORMAT,
    version: JOB_VERSION,
    id,
    title: title ?? JOB_PRESETS.find((one) => one.preset === preset)?.title ?? preset,
    vehicle: '',
    createdAt: at,
    updatedAt: at,
    source: {
      name: 'Factory radio',
      volumeSteps: null,
      pickup: 'speaker-level',
      loadResistors: null,
      highestVolts: null,
    },
    converter: {
      name: 'Line-output converter',
      highestInputVolts: null,
      adjustable: false,
      ratioDb: null,
      turnOn: 'unknown',
    },
    amplifiers: isFull ? [doorAmplifier(4), MONO] : [doorAmplifier(2)],
    channels: isFull ? [...front, ...rear, subwoofer()] : front,
    supplyVolts: null,
    tolerances: DEFAULT_TOLERANCES,
    records: [],
  };
}

function doorAmplifier(channelCount: number): JobAmplifier {
  return {
    id: 'doors',
    name: channelCount === 4 ? 'Four-channel amplifier' : 'Two-channel amplifier',
    channelCount,
    perChannel: { ratings: [{ loadOhms: 4, watts: 50 }], minimumLoadOhms: 2 },
    bridged: null,
    ratedSupplyVolts: 14.4,
    class: null,
    wiring: null,
  };
}

const MONO: JobAmplifier = {
  id: 'mono',
  name: 'Mono amplifier',
  channelCount: 1,
  perChannel: { ratings: [{ loadOhms: 4, watts: 250 }], minimumLoadOhms: 2 },
  bridged: null,
  ratedSupplyVolts: 14.4,
  class: null,
  wiring: null,
};

const SETTING = { overlapDb: 5, levelDbfs: -5, toleranceDb: 0.5 };

function door(id: string, name: string, fedBy: 'left' | 'right'): JobChannel {
  const band = { highPassHz: 80, lowPassHz: null };
  return {
    id,
    name,
    amplifierId: 'doors',
    bridged: false,
    drivers: {
      count: 1,
      coilsEach: 1,
      coilOhms: 4,
      coilWiring: 'single',
      driverWiring: 'single',
      continuousWattsEach: 50,
    },
    fedBy,
    summedInputs: 1,
    band,
    slopes: { highPass: null, lowPass: null },
    tone: { frequencyHz: settingToneHz(band), levelDbfs: SETTING.levelDbfs },
    overlapDb: SETTING.overlapDb,
    toleranceDb: SETTING.toleranceDb,
    speakerRun: null,
  };
}

function subwoofer(): JobChannel {
  const band = { highPassHz: 25, lowPassHz: 80 };
  return {
    id: 'subwoofer',
    name: 'Subwoofer',
    amplifierId: 'mono',
    bridged: false,
    drivers: {
      count: 1,
      coilsEach: 1,
      coilOhms: 4,
      coilWiring: 'single',
      driverWiring: 'single',
      continuousWattsEach: 250,
    },
    fedBy: 'both',
    summedInputs: 2,
    band,
    slopes: { highPass: null, lowPass: null },
    tone: { frequencyHz: settingToneHz(band), levelDbfs: SETTING.levelDbfs },
    overlapDb: SETTING.overlapDb,
    toleranceDb: SETTING.toleranceDb,
    speakerRun: null,
  };
}
