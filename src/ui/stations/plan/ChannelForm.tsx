import type { JobAmplifier, JobChannel } from '../../../job/document.ts';
import { settingToneHz } from '../../../plan/tone/setting-tone.ts';
import { ChoiceField, TickField } from '../../fields/ChoiceField.tsx';
import { MaybeNumberField, NumberField } from '../../fields/NumberField.tsx';
import { TextField } from '../../fields/TextField.tsx';
import { DriversForm } from './DriversForm.tsx';

interface Edit {
  channel: JobChannel;
  onChange: (channel: JobChannel) => void;
}

function Feed({ channel, onChange, amplifiers }: Edit & { amplifiers: JobAmplifier[] }) {
  const change = (part: Partial<JobChannel>) => onChange({ ...channel, ...part });
  return (
    <div className="fields">
      <TextField label="Name" value={channel.name} onChange={(name) => change({ name })} />
      <ChoiceField
        label="Amplifier"
        value={channel.amplifierId}
        choices={amplifiers.map((amplifier) => ({ value: amplifier.id, words: amplifier.name }))}
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
  );
}

function ToneAndAim({ channel, onChange }: Edit) {
  const change = (part: Partial<JobChannel>) => onChange({ ...channel, ...part });
  const band = (part: Partial<JobChannel['band']>) => change({ band: { ...channel.band, ...part } });
  const tone = (part: Partial<JobChannel['tone']>) => change({ tone: { ...channel.tone, ...part } });
  const { highPassHz, lowPassHz } = channel.band;
  const hasRoom = highPassHz === null || lowPassHz === null || highPassHz < lowPassHz;
  return (
    <div className="fields">
      <MaybeNumberField
        label="High-pass, Hz"
        value={highPassHz}
        above={0}
        onChange={(next) => band({ highPassHz: next })}
      />
      <MaybeNumberField
        label="Low-pass, Hz"
        value={lowPassHz}
        above={0}
        onChange={(next) => band({ lowPassHz: next })}
      />
      <NumberField
        label="Setting tone, Hz"
        value={channel.tone.frequencyHz}
        above={0}
        most={20_000}
        onChange={(frequencyHz) => tone({ frequencyHz })}
      />
      <NumberField
        label="Its level, dBFS"
        value={channel.tone.levelDbfs}
        most={0}
        least={-60}
        onChange={(levelDbfs) => tone({ levelDbfs })}
      />
      <NumberField
        label="Overlap, dB"
        value={channel.overlapDb}
        least={0}
        most={20}
        onChange={(overlapDb) => change({ overlapDb })}
      />
      <NumberField
        label="Brackets, ± dB"
        value={channel.toleranceDb}
        above={0}
        most={6}
        onChange={(toleranceDb) => change({ toleranceDb })}
      />
      {hasRoom ? (
        <button
          type="button"
          className="act"
          onClick={() => tone({ frequencyHz: settingToneHz(channel.band) })}
        >
          Choose the tone for this band
        </button>
      ) : (
        <p className="wrong small">The high-pass must lie below the low-pass.</p>
      )}
    </div>
  );
}

export function ChannelForm({
  channel,
  amplifiers,
  onChange,
  onRemove,
}: Edit & { amplifiers: JobAmplifier[]; onRemove: (() => void) | null }) {
  return (
    <div className="part-body">
      <Feed channel={channel} amplifiers={amplifiers} onChange={onChange} />
      <DriversForm drivers={channel.drivers} onChange={(drivers) => onChange({ ...channel, drivers })} />
      <ToneAndAim channel={channel} onChange={onChange} />
      <p className="small soft">
        Overlap: recordings rarely peak at full scale, so the gain is set so that a tone this far below full
        scale already reaches the target. Set the tone’s level to minus the overlap to read the target itself.
      </p>
      {onRemove !== null && (
        <button type="button" className="act plain" onClick={onRemove}>
          Remove this channel
        </button>
      )}
    </div>
  );
}
