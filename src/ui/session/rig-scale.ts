/** The practice rig knows what a volt is on its own input: exactly what it was built with. */
import type { CalibrationStamp } from '../../job/document.ts';
import { DEMO_RIG } from '../../rig/demo-rig.ts';
import { RIG_LABEL } from './input-identity.ts';

export const RIG_CALIBRATION: CalibrationStamp = {
  id: 'practice-rig',
  voltsPerFs: DEMO_RIG.input.voltsPerFs,
  // As a careful calibration in a vehicle would leave it: a 1 % meter (u = 0.6 %).
  uncertaintyDb: 0.05,
  deviceLabel: RIG_LABEL,
  at: '2026-03-14T09:00:00.000Z',
  basis: 'practice-rig',
};
