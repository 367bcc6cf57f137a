import { useState } from 'react';
import { sizeWords, TRADE_SIZES } from '../../../../plan/wire/trade-size.ts';
import type { WireRun } from '../../../../plan/wire/wire-run.ts';
import { ChoiceField, TickField } from '../../../fields/ChoiceField.tsx';
import { NumberField } from '../../../fields/NumberField.tsx';

/** Thinnest first, gauges and areas in one row, as they lie on the shelf. */
const SIZES = [...TRADE_SIZES.awg, ...TRADE_SIZES.metric]
  .sort((a, b) => a.areaMm2 - b.areaMm2)
  .map(({ name, areaMm2 }) => ({ value: name, words: sizeWords(areaMm2), areaMm2 }));

const OTHER = 'other';
/** 21.2 mm² as typed is 4 AWG. */
const SAME_AREA = 0.01;

function sizeOf(areaMm2: number): string {
  const found = SIZES.find((size) => Math.abs(size.areaMm2 / areaMm2 - 1) < SAME_AREA);
  return found?.value ?? OTHER;
}

function SizeFields({ run, onChange }: { run: WireRun; onChange: (run: WireRun) => void }) {
  const [typing, setTyping] = useState(sizeOf(run.areaMm2) === OTHER);
  return (
    <>
      <ChoiceField
        label="Gauge or cross-section"
        value={typing ? OTHER : sizeOf(run.areaMm2)}
        choices={[...SIZES, { value: OTHER, words: 'another area' }]}
        onChange={(value) => {
          const size = SIZES.find((one) => one.value === value);
          setTyping(size === undefined);
          if (size !== undefined) onChange({ ...run, areaMm2: Number(size.areaMm2.toPrecision(4)) });
        }}
      />
      {typing && (
        <NumberField
          label="Cross-section, mm²"
          value={run.areaMm2}
          above={0}
          most={1000}
          onChange={(areaMm2) => onChange({ ...run, areaMm2 })}
        />
      )}
    </>
  );
}

/** Length, size and material of one wire, or that nobody has noted it. */
export function WireRunForm({
  name,
  run,
  usual,
  onChange,
}: {
  /** "Supply wire": what the fields speak of. */
  name: string;
  run: WireRun | null;
  /** What the fields begin with. */
  usual: WireRun;
  onChange: (run: WireRun | null) => void;
}) {
  return (
    <fieldset className="wire-run">
      <legend className="unseen">{name}</legend>
      <TickField
        label={`${name} is known`}
        value={run !== null}
        onChange={(known) => onChange(known ? usual : null)}
      />
      {run !== null && (
        <div className="fields">
          <NumberField
            label="Length one way, m"
            value={run.metres}
            above={0}
            most={50}
            onChange={(metres) => onChange({ ...run, metres })}
          />
          <SizeFields run={run} onChange={onChange} />
          <ChoiceField
            label="Material"
            value={run.material}
            choices={[
              { value: 'copper', words: 'copper' },
              { value: 'copper-clad-aluminium', words: 'copper-clad aluminium' },
            ]}
            onChange={(material) => onChange({ ...run, material })}
          />
        </div>
      )}
    </fieldset>
  );
}
