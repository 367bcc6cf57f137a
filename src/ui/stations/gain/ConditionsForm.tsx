import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { MaybeNumberField } from '../../fields/NumberField.tsx';
import { useObservable } from '../../live/observable.ts';
import { type ConditionsDraft, conditionsDraft, setConditions } from '../../session/conditions.ts';

function YesNo({
  label,
  yes,
  no,
  value,
  onChange,
}: {
  label: string;
  yes: string;
  no: string;
  value: boolean | null;
  onChange: (value: boolean | null) => void;
}) {
  return (
    <ChoiceField
      label={label}
      value={value === null ? 'unknown' : value ? 'yes' : 'no'}
      choices={[
        { value: 'unknown', words: 'not noted' },
        { value: 'yes', words: yes },
        { value: 'no', words: no },
      ]}
      onChange={(chosen) => onChange(chosen === 'unknown' ? null : chosen === 'yes')}
    />
  );
}

/** Asked once and kept: what a reading depends on besides the gain. */
export function ConditionsForm({ jobId }: { jobId: string }) {
  const draft = useObservable(conditionsDraft);
  const change = (part: Partial<ConditionsDraft>) => setConditions(jobId, { ...draft, ...part });
  return (
    <div className="fields">
      <MaybeNumberField
        label="Supply at the amplifier, V"
        value={draft.supplyVolts}
        above={0}
        onChange={(supplyVolts) => change({ supplyVolts })}
      />
      <MaybeNumberField
        label="Radio’s volume step"
        value={draft.volumeStep}
        least={0}
        whole
        onChange={(volumeStep) => change({ volumeStep })}
      />
      <YesNo
        label="Speaker plug"
        yes="connected"
        no="pulled"
        value={draft.loaded}
        onChange={(loaded) => change({ loaded })}
      />
      <YesNo
        label="Engine"
        yes="running"
        no="off"
        value={draft.engineRunning}
        onChange={(engineRunning) => change({ engineRunning })}
      />
    </div>
  );
}
