import { chainWarnings, pickupOf } from '../../../job/chain-warnings.ts';
import type { Job } from '../../../job/document.ts';
import { volts } from '../../../job/format/quantity.ts';
import { highestLineVolts } from '../../../plan/pickup/pickup-warnings.ts';
import { ChoiceField, TickField } from '../../fields/ChoiceField.tsx';
import { MaybeNumberField } from '../../fields/NumberField.tsx';
import { TextField } from '../../fields/TextField.tsx';
import { editJob } from '../../session/job-session.ts';
import { Part, PartWarnings } from './Part.tsx';

type Converter = NonNullable<Job['converter']>;

const NEW_CONVERTER: Converter = {
  name: 'Line-output converter',
  highestInputVolts: null,
  adjustable: true,
  ratioDb: null,
  turnOn: 'unknown',
};

function change(part: Partial<Converter>): void {
  editJob((now) => ({ ...now, converter: { ...(now.converter ?? NEW_CONVERTER), ...part } }));
}

function ConverterFields({ converter }: { converter: Converter }) {
  return (
    <div className="fields">
      <TextField label="Converter" value={converter.name} onChange={(name) => change({ name })} />
      <MaybeNumberField
        label="Highest input, V"
        value={converter.highestInputVolts}
        above={0}
        onChange={(highestInputVolts) => change({ highestInputVolts })}
      />
      <ChoiceField
        label="Its level"
        value={converter.adjustable ? 'adjustable' : 'fixed'}
        choices={[
          { value: 'adjustable', words: 'can be adjusted' },
          { value: 'fixed', words: 'is fixed' },
        ]}
        onChange={(level) => change({ adjustable: level === 'adjustable', ratioDb: null })}
      />
      {!converter.adjustable && (
        <MaybeNumberField
          label="Output against input, dB"
          value={converter.ratioDb}
          least={-60}
          most={20}
          onChange={(ratioDb) => change({ ratioDb })}
        />
      )}
      <ChoiceField
        label="Turned on by"
        value={converter.turnOn}
        choices={[
          { value: 'remote-wire', words: 'a remote wire' },
          { value: 'sensing', words: 'sensing the signal' },
          { value: 'unknown', words: 'not known' },
        ]}
        onChange={(turnOn) => change({ turnOn })}
      />
    </div>
  );
}

/** What brings the source down to line level. */
export function ConverterForm({ job }: { job: Job }) {
  const { converter } = job;
  const lineVolts = highestLineVolts(pickupOf(job));
  return (
    <Part part="converter" title={converter?.name ?? 'No converter'}>
      <TickField
        label="A line-output converter stands between source and amplifier"
        value={converter !== null}
        onChange={(there) => editJob((now) => ({ ...now, converter: there ? NEW_CONVERTER : null }))}
      />
      {converter !== null && <ConverterFields converter={converter} />}
      {lineVolts !== null && (
        <p className="facts small">
          At most <b>{volts(lineVolts)}</b> reach the amplifiers’ inputs.
        </p>
      )}
      <PartWarnings sentences={chainWarnings(job).filter(({ at }) => at === 'converter')} />
    </Part>
  );
}
