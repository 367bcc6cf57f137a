import type { RigChannelConfig, RigConfig } from './rig.ts';

export type RigFaultId =
  | 'radio-clips-early'
  | 'radio-cuts-bass'
  | 'radio-unloaded'
  | 'converter-sleeps'
  | 'amplifier-past-knee'
  | 'channel-reversed'
  | 'left-low'
  | 'filter-octave-off'
  | 'filter-order-low'
  | 'engine-whine'
  | 'mains-hum'
  | 'poor-ground'
  | 'input-gains-itself';

interface RigFault {
  id: RigFaultId;
  title: string;
  /** What is wrong in this vehicle; read it after looking for it. */
  sentence: string;
  /** Where it is found. */
  station: 'input' | 'source' | 'gain' | 'crossover' | 'balance' | 'quiet';
}

/** Everything that the practice rig can have wrong with it. */
export const RIG_FAULTS: readonly RigFault[] = [
  {
    id: 'input-gains-itself',
    title: 'The input turns itself up and down',
    sentence: 'The measuring input has automatic gain: a step of 10 dB reads as less.',
    station: 'input',
  },
  {
    id: 'radio-clips-early',
    title: 'The radio clips early',
    sentence: 'The radio’s output stage clips several volume steps earlier than a healthy one.',
    station: 'source',
  },
  {
    id: 'radio-cuts-bass',
    title: 'The radio takes bass away',
    sentence: 'From step 18 on, the radio takes away more bass with each volume step.',
    station: 'source',
  },
  {
    id: 'radio-unloaded',
    title: 'The radio misses its load',
    sentence:
      'The load resistors are not connected: the radio senses no speaker and plays lower, with less bass.',
    station: 'source',
  },
  {
    id: 'converter-sleeps',
    title: 'The converter falls asleep',
    sentence:
      'The converter senses the signal: after six seconds of silence it mutes and loses the next start.',
    station: 'source',
  },
  {
    id: 'amplifier-past-knee',
    title: 'A gain past the knee',
    sentence:
      'The front left door’s gain control was left so far up that its amplifier clips at the setting tone.',
    station: 'gain',
  },
  {
    id: 'filter-octave-off',
    title: 'A filter an octave off',
    sentence: 'The front left door’s high-pass filter stands at 160 Hz instead of 80 Hz.',
    station: 'crossover',
  },
  {
    id: 'filter-order-low',
    title: 'A filter too shallow',
    sentence: 'The subwoofer’s low-pass filter is of second order instead of fourth.',
    station: 'crossover',
  },
  {
    id: 'channel-reversed',
    title: 'A channel reversed',
    sentence: 'The wires of the front right door are the wrong way round.',
    station: 'balance',
  },
  {
    id: 'left-low',
    title: 'The left side low',
    sentence: 'The front left door plays 1.5 dB lower than the front right one.',
    station: 'balance',
  },
  {
    id: 'engine-whine',
    title: 'Whine from the engine',
    sentence:
      'The alternator’s ripple gets into the amplifiers’ inputs: a whine that follows the engine’s speed.',
    station: 'quiet',
  },
  {
    id: 'mains-hum',
    title: 'Hum from the mains',
    sentence: 'A mains charger hums into the amplifiers’ inputs at 50 Hz and its multiples, engine or not.',
    station: 'quiet',
  },
  {
    id: 'poor-ground',
    title: 'A poor ground',
    sentence:
      'The amplifiers’ ground has 50 mΩ: a painted or loose contact, where its wire explains half a milliohm.',
    station: 'quiet',
  },
];

function changed(
  config: RigConfig,
  channelId: string,
  change: (channel: RigChannelConfig) => Partial<RigChannelConfig>,
): RigConfig {
  if (!config.channels.some((channel) => channel.id === channelId)) {
    throw new RangeError(`This fault needs a channel "${channelId}", which the rig does not have.`);
  }
  const channels = config.channels.map((channel) =>
    channel.id === channelId ? { ...channel, ...change(channel) } : channel,
  );
  return { ...config, channels };
}

const FAULTY: Record<RigFaultId, (config: RigConfig) => RigConfig> = {
  // 4.2 V peak: with a full-scale tone step 24 is the demo radio's last clean one instead of 30.
  'radio-clips-early': (config) => ({ ...config, radio: { ...config.radio, ceilingPeakVolts: 4.2 } }),
  'radio-cuts-bass': (config) => ({
    ...config,
    radio: { ...config.radio, bassCut: { fromStep: 18, dbPerStep: 1, deepestDb: 15, cornerHz: 100 } },
  }),
  'radio-unloaded': (config) => ({
    ...config,
    radio: { ...config.radio, unloaded: { lossDb: 5, bassLossDb: 6, cornerHz: 250 } },
    asFound: { ...config.asFound, loadResistors: false },
  }),
  'converter-sleeps': (config) => ({
    ...config,
    converter: {
      ...config.converter,
      sleep: { thresholdPeakVolts: 0.003, afterSeconds: 6, wakeSeconds: 0.3 },
    },
  }),
  // 2.5 dB over at the setting tone and step 30.
  'amplifier-past-knee': (config) => ({
    ...config,
    asFound: { ...config.asFound, gains: { ...config.asFound.gains, 'front-left': 0.7 } },
  }),
  'channel-reversed': (config) => changed(config, 'front-right', () => ({ polarity: -1 })),
  'left-low': (config) => changed(config, 'front-left', () => ({ levelTrimDb: -1.5 })),
  'filter-octave-off': (config) =>
    changed(config, 'front-left', ({ filters }) => ({
      filters: { ...filters, highPass: filters.highPass && { ...filters.highPass, cutoffHz: 160 } },
    })),
  'filter-order-low': (config) =>
    changed(config, 'subwoofer', ({ filters }) => ({
      filters: { ...filters, lowPass: filters.lowPass && { ...filters.lowPass, order: 2 } },
    })),
  'engine-whine': (config) => ({
    ...config,
    engine: { ...config.engine, whine: { ...config.engine.whine, volts: 0.002 } },
  }),
  'mains-hum': (config) => ({ ...config, mains: { ...config.mains, volts: 0.002 } }),
  'poor-ground': (config) => ({
    ...config,
    supplyPath: { ...config.supplyPath, groundLegOhms: 0.05 },
  }),
  'input-gains-itself': (config) => ({
    ...config,
    input: {
      ...config.input,
      automaticGain: { towardDbfs: -20, share: 0.5, farthestDb: 18, dbPerSecond: 12 },
    },
  }),
};

/** The same vehicle with one thing wrong. Faults may be added one after the other. */
export function faultyRig(config: RigConfig, fault: RigFaultId): RigConfig {
  return FAULTY[fault](config);
}
