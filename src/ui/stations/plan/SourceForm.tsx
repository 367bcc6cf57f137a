import type { Job } from '../../../job/document.ts';
import { ChoiceField, TickField } from '../../fields/ChoiceField.tsx';
import { MaybeNumberField } from '../../fields/NumberField.tsx';
import { TextField } from '../../fields/TextField.tsx';
import { editJob } from '../../session/job-session.ts';

const NEW_CONVERTER: NonNullable<Job['converter']> = {
  name: 'Line-output converter',
  highestInputVolts: null,
  adjustable: true,
  ratioDb: null,
  turnOn: 'unknown',
};

/** Radio and line-output converter. */
export function SourceForm({ job }: { job: Job }) {
  const { source, converter } = job;
  const setSource = (part: Partial<Job['source']>) =>
    editJob((now) => ({ ...now, source: { ...now.source, ...part } }));
  const setConverter = (part: Partial<NonNullable<Job['converter']>>) =>
    editJob((now) => ({ ...now, converter: { ...(now.converter ?? NEW_CONVERTER), ...part } }));
  return (
    <details className="part">
      <summary>
        <span>
          <b>{source.name}</b>
          {converter !== null && <> and {converter.name.toLowerCase()}</>}
        </span>
      </summary>
      <div className="fields">
        <TextField label="Source" value={source.name} onChange={(name) => setSource({ name })} />
        <MaybeNumberField
          label="Volume steps"
          value={source.volumeSteps}
          above={0}
          whole
          onChange={(volumeSteps) => setSource({ volumeSteps })}
        />
        <ChoiceField
          label="Signal picked up at"
          value={source.pickup}
          choices={[
            { value: 'speaker-level', words: 'speaker level' },
            { value: 'line-level', words: 'line level' },
          ]}
          onChange={(pickup) => setSource({ pickup })}
        />
      </div>
      <TickField
        label="A line-output converter stands between radio and amplifier"
        value={converter !== null}
        onChange={(there) => editJob((now) => ({ ...now, converter: there ? NEW_CONVERTER : null }))}
      />
      {converter !== null && (
        <div className="fields">
          <TextField label="Converter" value={converter.name} onChange={(name) => setConverter({ name })} />
          <MaybeNumberField
            label="Highest input, V"
            value={converter.highestInputVolts}
            above={0}
            onChange={(highestInputVolts) => setConverter({ highestInputVolts })}
          />
          <TickField
            label="Its level can be adjusted"
            value={converter.adjustable}
            onChange={(adjustable) => setConverter({ adjustable })}
          />
        </div>
      )}
    </details>
  );
}
