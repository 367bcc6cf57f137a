import type { Job, JobChannel } from '../../../job/document.ts';
import { summedSentence } from '../../../job/summed-tone.ts';
import { ChoiceField, TickField } from '../../fields/ChoiceField.tsx';
import { NumberField } from '../../fields/NumberField.tsx';
import { TextField } from '../../fields/TextField.tsx';
import { planOf } from '../../session/plan-of.ts';
import { BandForm, ToneForm } from './BandForm.tsx';
import { DriversForm } from './DriversForm.tsx';

interface Edit {
  job: Job;
  channel: JobChannel;
  onChange: (channel: JobChannel) => void;
}

function Feed({ job, channel, onChange }: Edit) {
  const change = (part: Partial<JobChannel>) => onChange({ ...channel, ...part });
  const plan = planOf(job, channel.id);
  const summed = summedSentence(channel, typeof plan === 'string' ? null : plan.toneVolts);
  return (
    <>
      <div className="fields">
        <TextField label="Name" value={channel.name} onChange={(name) => change({ name })} />
        <ChoiceField
          label="Amplifier"
          value={channel.amplifierId}
          choices={job.amplifiers.map((amplifier) => ({ value: amplifier.id, words: amplifier.name }))}
          onChange={(amplifierId) => change({ amplifierId })}
        />
        <ChoiceField
          label="Fed by the radio’s"
          value={channel.fedBy}
          choices={[
            { value: 'left', words: 'left side' },
            { value: 'right', words: 'right side' },
            { value: 'both', words: 'both sides, summed' },
          ]}
          onChange={(fedBy) => change({ fedBy, summedInputs: fedBy === 'both' ? 2 : 1 })}
        />
        <NumberField
          label="Inputs summed"
          value={channel.summedInputs}
          least={1}
          most={4}
          whole
          onChange={(summedInputs) => change({ summedInputs })}
        />
        <TickField
          label="Two channels bridged"
          value={channel.bridged}
          onChange={(bridged) => change({ bridged })}
        />
      </div>
      {summed !== null && <p className="note small">{summed}</p>}
    </>
  );
}

/** One channel: where it comes from, what hangs on it, its band and its tone. */
export function ChannelForm({ job, channel, onChange }: Edit) {
  return (
    <>
      <Feed job={job} channel={channel} onChange={onChange} />
      <DriversForm drivers={channel.drivers} onChange={(drivers) => onChange({ ...channel, drivers })} />
      <BandForm channel={channel} onChange={onChange} />
      <ToneForm channel={channel} onChange={onChange} />
    </>
  );
}
