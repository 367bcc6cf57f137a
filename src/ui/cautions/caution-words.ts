/** What the screen says before a step stands in the report again, in the same words. */
export {
  AROUND_A_CALIBRATOR,
  BEFORE_A_LOUD_TONE,
  BEFORE_A_SWEEP,
  BEFORE_LISTENING_IN_THE_CABIN,
  BEFORE_SUPPLY_READINGS,
  BEFORE_THE_ENGINE_RUNS,
  BEFORE_VOLUME_STEPS,
  BEFORE_WIRING,
  type Caution,
  FIGURES_NOT_PERMISSION,
} from '../../job/caution-words.ts';
