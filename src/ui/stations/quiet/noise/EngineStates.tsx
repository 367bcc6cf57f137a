import { fixed } from '../../../../job/format/number.ts';
import { ENGINE_STATES, type NoisePurpose, type NoiseState } from '../../../../procedure/noise/noise.ts';
import type { NoiseTakeReading } from '../../../../procedure/take/noise-take.ts';
import { MarkSign } from '../../../marks/MarkSign.tsx';
import { ENGINE_NAMES } from './purpose-words.ts';

function figureOf(reading: NoiseTakeReading | null, { task }: NoiseState): string {
  const level = reading?.floor.levelDbfs ?? null;
  if (level === null) return '—';
  return task.voltsPerFs === null
    ? `${fixed(level, 1)} dBFS`
    : `${fixed(level + 20 * Math.log10(task.voltsPerFs), 1)} dBV`;
}

/** Which recording is at hand, and what the others came to. Pressing one takes it again. */
export function EngineStates({
  state,
  at,
  onChoose,
}: {
  state: NoiseState;
  at: NoisePurpose | null;
  onChoose: (purpose: NoisePurpose) => void;
}) {
  const { takes, unplugged, wanted } = state;
  const pulled: NoisePurpose | null =
    unplugged !== null
      ? { engine: unplugged.engine, lead: 'unplugged' }
      : wanted?.lead === 'unplugged'
        ? wanted
        : null;
  const rows = [
    ...ENGINE_STATES.map((engine) => ({
      purpose: { engine, lead: 'plugged' } as NoisePurpose,
      name: engine === 'off' ? 'off' : ENGINE_NAMES[engine],
      reading: takes[engine],
    })),
    ...(pulled === null
      ? []
      : [{ purpose: pulled, name: 'lead pulled', reading: unplugged?.reading ?? null }]),
  ];
  return (
    <fieldset className="engine-states" aria-label="Recordings">
      {rows.map(({ purpose, name, reading }) => (
        <button
          key={name}
          type="button"
          aria-pressed={at !== null && purpose.engine === at.engine && purpose.lead === at.lead}
          onClick={() => onChoose(purpose)}
        >
          <MarkSign mark={reading === null ? 'not-done' : 'done'} />
          <b>{name}</b>
          <span>{figureOf(reading, state)}</span>
          <span className="unseen">{reading === null ? 'not recorded' : 'recorded'}</span>
        </button>
      ))}
    </fieldset>
  );
}
