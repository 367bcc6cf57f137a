import { fixed, NOTHING } from '../../../../job/format/number.ts';
import type { NoiseState } from '../../../../procedure/noise/noise.ts';
import type { OutputFace } from '../../../outputs/LiveOutput.tsx';
import { BigReading } from '../../../reading/BigReading.tsx';
import { noiseSession } from '../../../session/noise-session.ts';
import { ENGINE_NAMES } from './purpose-words.ts';

function face(read: (state: NoiseState) => number | null): OutputFace {
  const state = noiseSession.state();
  const value = state === null ? null : read(state);
  if (value === null) return { value, state: 'not-recorded', words: NOTHING };
  return { value, state: 'valid', words: fixed(value, 1) };
}

const belowTarget = () => face((state) => state.worst?.belowTargetDb ?? null);
const levelDbv = () => face((state) => state.worst?.levelDbv ?? null);
const levelDbfs = () => face((state) => state.worst?.levelDbfs ?? null);

/** What the loudest state reads, in the unit that says most: against the target, in volts, or at the input only. */
export function NoiseFigure({ state }: { state: NoiseState }) {
  const { targetVolts, voltsPerFs, noiseDb } = state.task;
  const inVolts = voltsPerFs !== null;
  const figure =
    inVolts && targetVolts !== null ? (
      <BigReading
        name="noiseBelowTargetDb"
        label="Noise below the target"
        unit="dB below target"
        read={belowTarget}
      />
    ) : inVolts ? (
      <BigReading name="noiseDbv" label="Noise" unit="dBV" read={levelDbv} />
    ) : (
      <BigReading name="noiseDbfs" label="Noise" unit="dBFS" read={levelDbfs} />
    );
  return (
    <div className="noise-figure with-facts">
      {figure}
      <p className="facts">
        {inVolts && targetVolts !== null && <>at least {noiseDb} dB</>}
        {worstWords(state)}
      </p>
    </div>
  );
}

function worstWords({ worst, task, takes }: NoiseState): string {
  if (worst === null) return task.voltsPerFs === null ? 'no recording yet' : ' · no recording yet';
  const aWeighted = worst.aWeightedDbfs;
  const shift = worst.levelDbv === null || worst.levelDbfs === null ? 0 : worst.levelDbv - worst.levelDbfs;
  const unit = task.voltsPerFs === null ? 'dBFS' : 'dBV';
  const plain = worst.levelDbfs === null ? NOTHING : fixed(worst.levelDbfs + shift, 1);
  const weighted = aWeighted === null ? NOTHING : fixed(aWeighted + shift, 1);
  const count = Object.values(takes).filter((take) => take !== null).length;
  const which = count > 1 ? ` · loudest ${ENGINE_NAMES[worst.engine]}` : '';
  const start = task.voltsPerFs !== null && task.targetVolts !== null ? ' · ' : '';
  return `${start}${plain} ${unit}, A-weighted ${weighted}${which}`;
}
