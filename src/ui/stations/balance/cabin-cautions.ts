import { BEFORE_A_LOUD_TONE, BEFORE_LISTENING_IN_THE_CABIN } from '../../../job/caution-words.ts';
import { stepCautions } from '../../cautions/step-cautions.ts';

/** Those before a tone on a wire as well: the cabin's parts may be done alone. */
export const IN_THE_CABIN = stepCautions({
  id: 'cabin',
  title: 'Before listening in the cabin',
  cautions: [...BEFORE_LISTENING_IN_THE_CABIN, ...BEFORE_A_LOUD_TONE],
});
