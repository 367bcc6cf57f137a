import type { RecordOf } from '../../src/job/records.ts';

/** An accepted gain of the demo job's front left door; invented. */
export function gainRecord(id: string, at = '2026-03-14T10:00:00.000Z'): RecordOf<'gain'> {
  return {
    kind: 'gain',
    id,
    at,
    conditions: {
      supplyVolts: 14.2,
      engineRunning: true,
      loaded: false,
      volumeStep: 30,
      calibration: {
        id: 'cal-1',
        voltsPerFs: 35,
        uncertaintyDb: 0.05,
        deviceLabel: 'Line input',
        at: '2026-03-14T09:30:00.000Z',
        basis: 'multimeter',
      },
      input: 'Line input',
      note: '',
    },
    result: {
      channelId: 'front-left',
      way: 'wire',
      volts: 17.3,
      voltsUncertainty: 0.1,
      aimVolts: 17.32,
      limitedByKnee: false,
      targetVolts: 17.32,
      errorDb: -0.01,
      toleranceDb: 0.5,
      inside: true,
      toneHz: 997,
      toneDbfs: -5,
      overlapDb: 5,
      bursts: null,
      clippingStage: null,
      thdPercent: 0.02,
      clippingVerdict: 'clean',
      grade: 'valid',
      doubts: [],
      knee: {
        volts: 18.4,
        levelDbfs: -5.6,
        uncertaintyDb: 0.03,
        from: 'overdrive',
        crossCheckDb: 0.02,
        disputed: false,
      },
      marginDb: 0.52,
      trace: [{ turn: 0, volts: 17.3, levelDbfs: -6.1, thdPercent: 0.02, verdict: 'clean' }],
    },
  };
}
