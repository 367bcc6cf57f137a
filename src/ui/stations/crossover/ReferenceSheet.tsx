import type { CrossoverState, ReferenceWay } from '../../../procedure/crossover/crossover.ts';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { crossoverSession } from '../../session/crossover-session.ts';

const WAYS: readonly { value: ReferenceWay; words: string }[] = [
  { value: 'input-plug', words: 'at the amplifier’s input plug' },
  { value: 'filters-off', words: 'at the channel, its filters off' },
  { value: 'none', words: 'not at all' },
];

function standing({ way, reference, task }: CrossoverState): string {
  if (way === 'none') {
    return 'Nothing is divided out: what the radio does to its sound counts as the filter’s.';
  }
  if (reference === null) return 'Not taken yet.';
  const name = task.channels.find(({ id }) => id === reference.channelId)?.name.toLowerCase();
  const where =
    reference.way === 'input-plug' ? 'at the input plug that feeds the' : 'with the filters off, at the';
  return `Taken ${where} ${name}; it serves every channel at this volume step.`;
}

/** The sweep ahead of the filters: what is divided out, and where it comes from. */
export function ReferenceSheet({ state }: { state: CrossoverState }) {
  return (
    <section className="sheet" aria-labelledby="reference-title">
      <h2 id="reference-title">Reference</h2>
      <p>{standing(state)}</p>
      <ChoiceField
        label="Taken"
        value={state.way}
        choices={WAYS}
        onChange={(way) => crossoverSession.hand({ type: 'reference-way', way })}
      />
      {state.reference !== null && (
        <button
          type="button"
          className="act"
          onClick={() => crossoverSession.hand({ type: 'new-reference' })}
        >
          The source was changed: take it anew
        </button>
      )}
    </section>
  );
}
