import { BEFORE_THE_ENGINE_RUNS } from '../../../../job/caution-words.ts';
import { stepCautions } from '../../../cautions/step-cautions.ts';

/** Before the first recording with the engine running. */
export const BEFORE_ENGINE = stepCautions({
  id: 'engine',
  title: 'Before the engine runs',
  cautions: BEFORE_THE_ENGINE_RUNS,
});
