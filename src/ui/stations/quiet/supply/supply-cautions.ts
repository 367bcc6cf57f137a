import { BEFORE_SUPPLY_READINGS } from '../../../../job/caution-words.ts';
import { stepCautions } from '../../../cautions/step-cautions.ts';

/** Before the first probe touches a terminal. */
export const BEFORE_PROBES = stepCautions({
  id: 'supply',
  title: 'Before the probes go on',
  cautions: BEFORE_SUPPLY_READINGS,
});
