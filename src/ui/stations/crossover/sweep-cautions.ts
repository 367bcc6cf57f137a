import { BEFORE_A_LOUD_TONE, BEFORE_A_SWEEP } from '../../../job/caution-words.ts';
import { stepCautions } from '../../cautions/step-cautions.ts';

/** Apart from those before a steady tone: a sweep reaches drivers that no setting tone does. */
export const BEFORE_SWEEPING = stepCautions({
  id: 'sweep',
  title: 'Before anything is swept',
  cautions: [...BEFORE_A_SWEEP, ...BEFORE_A_LOUD_TONE],
});
