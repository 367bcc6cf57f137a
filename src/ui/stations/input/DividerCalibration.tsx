import { type FormEvent, useState } from 'react';
import { rectangular } from '../../../plan/calibration/gum.ts';
import { USUAL_INPUTS, usualFullScale, usualInput } from '../../../plan/calibration/usual-full-scale.ts';
import { calibrateByDivider, type InputFullScale } from '../../../plan/calibration/volts-per-full-scale.ts';
import { dividerFigures } from '../../../plan/divider/divider.ts';
import { PlanRefused } from '../../../plan/refused.ts';
import { relativeToDb } from '../../../plan/units/ratio.ts';
import { ChoiceField, TickField } from '../../fields/ChoiceField.tsx';
import { NumberField } from '../../fields/NumberField.tsx';
import { keepCalibration } from '../../session/calibration.ts';
import type { Said } from './MeterCalibration.tsx';

interface Parts {
  usual: (typeof USUAL_INPUTS)[number]['id'] | 'known';
  fullScaleVolts: number;
  fullScalePercent: number;
  measured: boolean;
  divider: boolean;
  legs: 1 | 2;
  seriesOhms: number;
  shuntOhms: number;
  inputOhms: number;
  tolerancePercent: number;
}

const BEGIN: Parts = {
  usual: 'known',
  fullScaleVolts: 2,
  fullScalePercent: 5,
  measured: false,
  divider: true,
  legs: 1,
  seriesOhms: 10_000,
  shuntOhms: 680,
  inputOhms: 10_000,
  tolerancePercent: 1,
};

function fullScaleOf(parts: Parts): InputFullScale {
  if (parts.usual !== 'known') return usualFullScale(usualInput(parts.usual));
  return {
    volts: parts.fullScaleVolts,
    uncertaintyDb: relativeToDb(rectangular(parts.fullScalePercent / 100)),
    measured: parts.measured,
  };
}

async function calibrate(parts: Parts): Promise<string | null> {
  try {
    const divider = parts.divider
      ? dividerFigures(
          {
            legs: parts.legs,
            seriesOhms: parts.seriesOhms,
            shuntOhms: parts.shuntOhms,
            inputOhms: parts.inputOhms,
          },
          { resistors: parts.tolerancePercent / 100, input: 0.3 },
        )
      : null;
    return await keepCalibration(calibrateByDivider(fullScaleOf(parts), divider));
  } catch (fault) {
    if (fault instanceof PlanRefused) return fault.message;
    throw fault;
  }
}

function FullScale({ parts, change }: { parts: Parts; change: (part: Partial<Parts>) => void }) {
  return (
    <>
      <ChoiceField
        label="The input’s full scale"
        value={parts.usual}
        choices={[
          { value: 'known', words: 'I know it' },
          ...USUAL_INPUTS.map((input) => ({ value: input.id, words: `${input.name}, common practice` })),
        ]}
        onChange={(usual) =>
          change(usual === 'known' ? { usual } : { usual, inputOhms: usualInput(usual).inputOhms })
        }
      />
      {parts.usual === 'known' && (
        <div className="fields">
          <NumberField
            label="Full-scale sine, V RMS"
            value={parts.fullScaleVolts}
            above={0}
            onChange={(fullScaleVolts) => change({ fullScaleVolts })}
          />
          <NumberField
            label="known to ± %"
            value={parts.fullScalePercent}
            least={0}
            onChange={(fullScalePercent) => change({ fullScalePercent })}
          />
          <TickField
            label="I measured it on this input"
            value={parts.measured}
            onChange={(measured) => change({ measured })}
          />
        </div>
      )}
    </>
  );
}

function Resistors({ parts, change }: { parts: Parts; change: (part: Partial<Parts>) => void }) {
  const numbers = [
    ['seriesOhms', 'Series resistor, Ω'],
    ['shuntOhms', 'Shunt resistor, Ω'],
    ['inputOhms', 'Input impedance, Ω'],
    ['tolerancePercent', 'Resistors, ± %'],
  ] as const;
  return (
    <div className="fields">
      <ChoiceField
        label="Series resistor in"
        value={parts.legs === 1 ? 'one' : 'both'}
        choices={[
          { value: 'one', words: 'one wire' },
          { value: 'both', words: 'both wires' },
        ]}
        onChange={(legs) => change({ legs: legs === 'one' ? 1 : 2 })}
      />
      {numbers.map(([name, label]) => (
        <NumberField
          key={name}
          label={label}
          value={parts[name]}
          above={0}
          onChange={(value) => change({ [name]: value })}
        />
      ))}
    </div>
  );
}

/** From the resistors ahead of the input and the input's own full scale. */
export function DividerCalibration({ say }: { say: (said: Said) => void }) {
  const [parts, setParts] = useState(BEGIN);
  const change = (part: Partial<Parts>) => setParts({ ...parts, ...part });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    void calibrate(parts).then((fault) =>
      say(fault === null ? { fault: false, words: 'Kept for this input.' } : { fault: true, words: fault }),
    );
  };
  return (
    <details>
      <summary>
        <b>From a divider and a known input</b>
      </summary>
      <form className="column" onSubmit={submit}>
        <FullScale parts={parts} change={change} />
        <TickField
          label="A divider stands ahead of the input"
          value={parts.divider}
          onChange={(divider) => change({ divider })}
        />
        {parts.divider && <Resistors parts={parts} change={change} />}
        <div className="acts">
          <button type="submit" className="act">
            Take this scale
          </button>
        </div>
      </form>
    </details>
  );
}
