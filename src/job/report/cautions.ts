/** The cautions given before the steps, once more for whoever keeps the page. */
import {
  BEFORE_A_LOUD_TONE,
  BEFORE_A_SWEEP,
  BEFORE_LISTENING_IN_THE_CABIN,
  BEFORE_SUPPLY_READINGS,
  BEFORE_THE_ENGINE_RUNS,
  BEFORE_VOLUME_STEPS,
  BEFORE_WIRING,
  type Caution,
  FIGURES_NOT_PERMISSION,
} from '../caution-words.ts';
import type { ReportSection } from './model.ts';
import { note } from './parts.ts';

const ALL: readonly (readonly Caution[])[] = [
  BEFORE_WIRING,
  BEFORE_A_LOUD_TONE,
  BEFORE_VOLUME_STEPS,
  BEFORE_A_SWEEP,
  BEFORE_LISTENING_IN_THE_CABIN,
  BEFORE_SUPPLY_READINGS,
  BEFORE_THE_ENGINE_RUNS,
];

/** Several steps share a caution; on paper it stands once. */
function once(cautions: readonly Caution[]): Caution[] {
  return [...new Map(cautions.map((caution) => [caution.first, caution])).values()];
}

export function cautionsSection(): ReportSection {
  const items = once(ALL.flat());
  return {
    id: 'cautions',
    heading: 'Cautions',
    blocks: [note(FIGURES_NOT_PERMISSION, 'grave'), { type: 'list', items }],
  };
}
