import { chainWarnings, recordedCeilingVolts } from '../../../job/chain-warnings.ts';
import type { Job } from '../../../job/document.ts';
import { volts } from '../../../job/format/quantity.ts';
import { ChoiceField, TickField } from '../../fields/ChoiceField.tsx';
import { MaybeNumberField, NumberField } from '../../fields/NumberField.tsx';
import { TextField } from '../../fields/TextField.tsx';
import { editJob } from '../../session/job-session.ts';
import { Part, PartWarnings } from './Part.tsx';

/** A size that is commonly sold; every figure is there to be replaced. */
const USUAL_LOAD = { ohms: 47, watts: 10 };

type Source = Job['source'];

function LoadResistors({
  load,
  onChange,
}: {
  load: Source['loadResistors'];
  onChange: (load: Source['loadResistors']) => void;
}) {
  return (
    <>
      <TickField
        label="Load resistors across the speaker outputs"
        value={load !== null}
        onChange={(there) => onChange(there ? USUAL_LOAD : null)}
      />
      {load !== null && (
        <div className="fields">
          <NumberField
            label="Each resistor, Ω"
            value={load.ohms}
            above={0}
            onChange={(ohms) => onChange({ ...load, ohms })}
          />
          <NumberField
            label="Rated for, W"
            value={load.watts}
            above={0}
            onChange={(watts) => onChange({ ...load, watts })}
          />
        </div>
      )}
    </>
  );
}

/** The source unit and how its signal is picked up. */
export function SourceForm({ job }: { job: Job }) {
  const { source } = job;
  const recordedVolts = recordedCeilingVolts(job);
  const change = (part: Partial<Source>) =>
    editJob((now) => ({ ...now, source: { ...now.source, ...part } }));
  return (
    <Part part="source" title={source.name}>
      <div className="fields">
        <TextField label="Source unit" value={source.name} onChange={(name) => change({ name })} />
        <MaybeNumberField
          label="Volume steps"
          value={source.volumeSteps}
          above={0}
          whole
          onChange={(volumeSteps) => change({ volumeSteps })}
        />
        <ChoiceField
          label="Signal picked up at"
          value={source.pickup}
          choices={[
            { value: 'speaker-level', words: 'speaker level' },
            { value: 'line-level', words: 'line level' },
          ]}
          onChange={(pickup) => change({ pickup })}
        />
        <MaybeNumberField
          label="Highest clean level there, V"
          value={source.highestVolts}
          above={0}
          onChange={(highestVolts) => change({ highestVolts })}
        />
      </div>
      {recordedVolts !== null && (
        <p className="small soft">
          The Source station recorded {volts(recordedVolts)} there, which counts while that field is empty.
        </p>
      )}
      {(source.pickup === 'speaker-level' || source.loadResistors !== null) && (
        <LoadResistors load={source.loadResistors} onChange={(loadResistors) => change({ loadResistors })} />
      )}
      <PartWarnings sentences={chainWarnings(job).filter(({ at }) => at === 'source')} />
    </Part>
  );
}
