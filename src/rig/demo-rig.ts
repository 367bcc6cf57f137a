import type { RigChannelConfig, RigConfig, RigControls, RigSineTone } from './rig.ts';
import type { RigCabin, RigEngine, RigMains, RigPlace, RigSupplyPath } from './rig-parts.ts';

/**
 * The rig behind the demo job (shared/examples/hatchback.job.json): an invented
 * hatchback. `tests/unit/rig-demo.test.ts` holds the two together.
 *
 * With the doors' setting tone (-5 dBFS) the radio clips from volume step 34 of
 * 40 on; with a tone at full scale from step 31 on, so step 30 is its last
 * clean one. Knees, loaded, at 14.4 V: doors 18.2 to 18.4 V, subwoofer 30.5 V.
 */

/** The four-channel amplifier: 75 W into 4 ohm is 17.32 V, its knee half a decibel above. */
function door(id: string, fedBy: 'left' | 'right', kneeVolts: number, place: RigPlace): RigChannelConfig {
  return {
    id,
    fedBy,
    // A quarter of a volt to 6 V of input for full output.
    lowestGainDb: 9,
    highestGainDb: 37,
    filters: { highPass: { alignment: 'linkwitz-riley', order: 4, cutoffHz: 80 }, lowPass: null },
    polarity: 1,
    levelTrimDb: 0,
    delayMs: 0,
    ceilingPeakVolts: unloadedCeiling(kneeVolts, 4, 0.25),
    loadOhms: 4,
    outputOhms: 0.25,
    efficiency: 0.55,
    noiseVolts: 0.0004,
    driver: { resonanceHz: 65, quality: 0.8, upperHz: 15_000, sensitivityDb: 89, place },
  };
}

/** Peak volts without the load, from the RMS voltage at which the loaded amplifier clips. */
function unloadedCeiling(kneeVolts: number, loadOhms: number, outputOhms: number): number {
  return (kneeVolts * Math.SQRT2 * (loadOhms + outputOhms)) / loadOhms;
}

/** Low in the doors, level with the seats or a little before them; mirrored left to right and front to rear. */
const DOOR: RigPlace = { rightM: 0.75, frontM: 0.75, upM: -0.45 };
const SEAT: RigPlace = { rightM: 0.35, frontM: 0.35, upM: 0 };

function corner(place: RigPlace, right: 1 | -1, front: 1 | -1): RigPlace {
  return { rightM: right * place.rightM, frontM: front * place.frontM, upM: place.upM };
}

const CABIN: RigCabin = {
  halfSize: { rightM: 0.75, frontM: 1.3, upM: 0.6 },
  reflection: 0.6,
  positions: [corner(SEAT, -1, 1), corner(SEAT, 1, 1), corner(SEAT, -1, -1), corner(SEAT, 1, -1)],
  airCelsius: 20,
  fullScaleSplDb: 120,
  microphoneNoiseSplDb: 32,
  ambientSplDb: 40,
  engineSplDb: 52,
};

/** 790 and 2010 turns a minute, 6 pairs of poles, pulleys 2.5 to 1: 1185 and 3015 Hz, off every multiple of 50 and 60 Hz. */
const ENGINE: RigEngine = {
  idleRpm: 790,
  revvedRpm: 2010,
  ripplesPerTurn: 6 * 6 * 2.5,
  whine: { volts: 0, harmonicsDb: [-6, -12, -15, -20] },
};

const MAINS: RigMains = { frequencyHz: 50, volts: 0, harmonicsDb: [-2, -5, -16, -12, -22, -18] };

/** 5 m of 21.2 mm2 copper are 4.1 mOhm (rho = 1/58), fuse and terminals the rest; the ground is 0.6 m and a contact. */
const SUPPLY_PATH: RigSupplyPath = {
  batteryVolts: 12.6,
  chargingVolts: 14.2,
  plusLegOhms: 0.0055,
  groundLegOhms: 0.001,
  countedOhms: 0.0065,
  idleAmperes: 1.8,
};

export const DEMO_RIG: RigConfig = {
  sampleRateHz: 48_000,
  seed: 20_260_314,
  ratedSupplyVolts: 14.4,
  radio: {
    volumeSteps: 40,
    stepDb: 1.5,
    fullScaleVolts: 45,
    ceilingPeakVolts: 12,
    softness: 0.01,
    noiseVolts: 0.0003,
    bassCut: null,
    unloaded: null,
  },
  converter: { gainDb: -14, ceilingPeakVolts: 3, noiseVolts: 0.000_01, sleep: null },
  channels: [
    door('front-left', 'left', 18.4, corner(DOOR, -1, 1)),
    door('front-right', 'right', 18.2, corner(DOOR, 1, 1)),
    door('rear-left', 'left', 18.3, corner(DOOR, -1, -1)),
    door('rear-right', 'right', 18.25, corner(DOOR, 1, -1)),
    {
      // The mono amplifier: 400 W into two 4-ohm coils in parallel is 28.28 V.
      id: 'subwoofer',
      fedBy: 'both',
      lowestGainDb: 13,
      highestGainDb: 41,
      filters: {
        highPass: { alignment: 'butterworth', order: 2, cutoffHz: 25 },
        lowPass: { alignment: 'linkwitz-riley', order: 4, cutoffHz: 80 },
      },
      polarity: 1,
      levelTrimDb: 0,
      delayMs: 0,
      ceilingPeakVolts: unloadedCeiling(30.5, 2, 0.1),
      loadOhms: 2,
      outputOhms: 0.1,
      efficiency: 0.8,
      noiseVolts: 0.0006,
      driver: {
        resonanceHz: 38,
        quality: 0.7,
        upperHz: 600,
        sensitivityDb: 87,
        place: { rightM: 0, frontM: -1.2, upM: -0.45 },
      },
    },
  ],
  engine: ENGINE,
  mains: MAINS,
  supplyPath: SUPPLY_PATH,
  cabin: CABIN,
  input: { voltsPerFs: 35, noiseDbfs: -100, bits: 24, automaticGain: null },
  asFound: { gains: {}, loadResistors: true },
};

/** As the installer finds it: the radio at its last clean step, every gain control turned down. */
export const DEMO_CONTROLS: RigControls = {
  volumeStep: 30,
  gains: { 'front-left': 0, 'front-right': 0, 'rear-left': 0, 'rear-right': 0, subwoofer: 0 },
  probe: 'front-left',
  loaded: true,
  supplyVolts: 14.4,
};

/** The demo's controls as they are found on a vehicle of this kind, faults and all. */
export function controlsAsFound(config: RigConfig): RigControls {
  return {
    ...DEMO_CONTROLS,
    gains: { ...DEMO_CONTROLS.gains, ...config.asFound.gains },
    loadResistors: config.asFound.loadResistors,
  };
}

/** The setting tone of the doors. */
export const DEMO_TONE: RigSineTone = { kind: 'sine', frequencyHz: 997, levelDbfs: -5, channels: 'both' };
