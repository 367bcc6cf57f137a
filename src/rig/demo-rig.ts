import type { RigChannelConfig, RigConfig, RigControls, RigTone } from './rig.ts';

/**
 * The rig behind the demo job (shared/examples/hatchback.job.json): an invented
 * hatchback. `tests/unit/rig-demo.test.ts` holds the two together.
 *
 * With the doors' setting tone (-5 dBFS) the radio clips from volume step 34 of
 * 40 on; with a tone at full scale from step 31 on, so step 30 is its last
 * clean one. Knees, loaded, at 14.4 V: doors 18.2 to 18.4 V, subwoofer 30.5 V.
 */

/** The four-channel amplifier: 75 W into 4 ohm is 17.32 V, its knee half a decibel above. */
function door(id: string, fedBy: 'left' | 'right', kneeVolts: number): RigChannelConfig {
  return {
    id,
    fedBy,
    // A quarter of a volt to 6 V of input for full output.
    lowestGainDb: 9,
    highestGainDb: 37,
    ceilingPeakVolts: unloadedCeiling(kneeVolts, 4, 0.25),
    loadOhms: 4,
    outputOhms: 0.25,
    noiseVolts: 0.0004,
  };
}

/** Peak volts without the load, from the RMS voltage at which the loaded amplifier clips. */
function unloadedCeiling(kneeVolts: number, loadOhms: number, outputOhms: number): number {
  return (kneeVolts * Math.SQRT2 * (loadOhms + outputOhms)) / loadOhms;
}

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
  },
  converter: { gainDb: -14, ceilingPeakVolts: 3, noiseVolts: 0.000_01 },
  channels: [
    door('front-left', 'left', 18.4),
    door('front-right', 'right', 18.2),
    door('rear-left', 'left', 18.3),
    door('rear-right', 'right', 18.25),
    {
      // The mono amplifier: 400 W into two 4-ohm coils in parallel is 28.28 V.
      id: 'subwoofer',
      fedBy: 'both',
      lowestGainDb: 13,
      highestGainDb: 41,
      ceilingPeakVolts: unloadedCeiling(30.5, 2, 0.1),
      loadOhms: 2,
      outputOhms: 0.1,
      noiseVolts: 0.0006,
    },
  ],
  input: { voltsPerFs: 35, noiseDbfs: -100, bits: 24 },
};

/** As the installer finds it: the radio at its last clean step, every gain control turned down. */
export const DEMO_CONTROLS: RigControls = {
  volumeStep: 30,
  gains: { 'front-left': 0, 'front-right': 0, 'rear-left': 0, 'rear-right': 0, subwoofer: 0 },
  probe: 'front-left',
  loaded: true,
  supplyVolts: 14.4,
};

/** The setting tone of the doors. */
export const DEMO_TONE: RigTone = { kind: 'sine', frequencyHz: 997, levelDbfs: -5, channels: 'both' };
