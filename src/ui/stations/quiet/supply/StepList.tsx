import { fixed } from '../../../../job/format/number.ts';
import type { SupplyState, SupplyStep } from '../../../../procedure/supply/supply.ts';
import { MarkSign } from '../../../marks/MarkSign.tsx';

type Read = Exclude<SupplyStep, 'done'>;

const STEP_NAMES: Record<Read, string> = {
  'ground-leg': 'Ground leg',
  current: 'Current',
  amplifier: 'Amplifier’s terminals',
  battery: 'Battery’s posts',
};

const STEPS = Object.keys(STEP_NAMES) as Read[];

function decimalsOf(perDigit: number): number {
  return Math.max(0, Math.round(-Math.log10(perDigit)));
}

/** "0.002 → 0.034 V"; `null` where nothing was read. */
function typedWords(state: SupplyState, step: Read): string | null {
  if (step === 'current') {
    const { current } = state;
    if (current === null) return null;
    if (current.from === 'power') return `from ${fixed(current.watts, 0)} W`;
    const decimals = decimalsOf(current.amperesPerDigit);
    return `${fixed(current.restAmperes, decimals)} → ${fixed(current.toneAmperes, decimals)} A`;
  }
  const pair = state.volts[step];
  if (pair === null) return null;
  const decimals = decimalsOf(pair.voltsPerDigit);
  return `${fixed(pair.restVolts, decimals)} → ${fixed(pair.toneVolts, decimals)} V`;
}

/** The four readings with what was read, each of which may be read again. */
export function StepList({
  state,
  at,
  onStep,
}: {
  state: SupplyState;
  at: SupplyStep;
  onStep: (step: SupplyStep) => void;
}) {
  return (
    <ol className="plainlist supply-steps" aria-label="Readings">
      {STEPS.map((step) => {
        const words = typedWords(state, step);
        return (
          <li key={step}>
            <button
              type="button"
              className="act"
              aria-current={at === step ? 'step' : undefined}
              onClick={() => onStep(step)}
            >
              <MarkSign mark={words === null ? 'not-done' : 'done'} />
              <span>
                {STEP_NAMES[step]}
                <span className="small soft"> {words ?? 'not read'}</span>
              </span>
            </button>
          </li>
        );
      })}
    </ol>
  );
}
