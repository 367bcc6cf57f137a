import type { JobChannel } from '../../../job/document.ts';
import { settingToneHz } from '../../../plan/tone/setting-tone.ts';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { MaybeNumberField, NumberField } from '../../fields/NumberField.tsx';
import { slopeChoices, slopeOf, slopeValue } from './slope-choices.ts';

interface Edit {
  channel: JobChannel;
  onChange: (channel: JobChannel) => void;
}

function Slope({ channel, onChange, side }: Edit & { side: 'highPass' | 'lowPass' }) {
  const present = channel.slopes[side];
  return (
    <ChoiceField
      label={side === 'highPass' ? 'Slope of the high-pass' : 'Slope of the low-pass'}
      value={slopeValue(present)}
      choices={slopeChoices(present)}
      onChange={(value) =>
        onChange({ ...channel, slopes: { ...channel.slopes, [side]: slopeOf(value, present) } })
      }
    />
  );
}

/** Where the channel's filters should sit, and how steep they should be. */
export function BandForm({ channel, onChange }: Edit) {
  const { highPassHz, lowPassHz } = channel.band;
  const band = (part: Partial<JobChannel['band']>) =>
    onChange({ ...channel, band: { ...channel.band, ...part } });
  return (
    <div className="fields">
      <MaybeNumberField
        label="High-pass, Hz"
        value={highPassHz}
        above={0}
        most={20_000}
        refuse={(hz) =>
          lowPassHz !== null && hz >= lowPassHz ? `It must lie below the low-pass of ${lowPassHz} Hz.` : null
        }
        onChange={(next) => band({ highPassHz: next })}
      />
      {highPassHz !== null && <Slope channel={channel} onChange={onChange} side="highPass" />}
      <MaybeNumberField
        label="Low-pass, Hz"
        value={lowPassHz}
        above={0}
        most={20_000}
        refuse={(hz) =>
          highPassHz !== null && hz <= highPassHz
            ? `It must lie above the high-pass of ${highPassHz} Hz.`
            : null
        }
        onChange={(next) => band({ lowPassHz: next })}
      />
      {lowPassHz !== null && <Slope channel={channel} onChange={onChange} side="lowPass" />}
    </div>
  );
}

function isOutside({ band: { highPassHz, lowPassHz }, tone: { frequencyHz } }: JobChannel): boolean {
  return (highPassHz !== null && frequencyHz < highPassHz) || (lowPassHz !== null && frequencyHz > lowPassHz);
}

/** The tone its gain is set with, and how near is near enough. */
export function ToneForm({ channel, onChange }: Edit) {
  const change = (part: Partial<JobChannel>) => onChange({ ...channel, ...part });
  const tone = (part: Partial<JobChannel['tone']>) => change({ tone: { ...channel.tone, ...part } });
  const { highPassHz, lowPassHz } = channel.band;
  const hasRoom = highPassHz === null || lowPassHz === null || highPassHz < lowPassHz;
  return (
    <>
      <div className="fields">
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
        {hasRoom && (
          <button
            type="button"
            className="act"
            onClick={() => tone({ frequencyHz: settingToneHz(channel.band) })}
          >
            Choose the tone for this band
          </button>
        )}
      </div>
      {!hasRoom && <p className="wrong small">The high-pass must lie below the low-pass.</p>}
      {hasRoom && isOutside(channel) && (
        <p className="note over small">
          This tone lies outside the channel’s band, where its filters take some of it: choose one inside.
        </p>
      )}
      <p className="small soft">
        Overlap: recordings rarely peak at full scale, so the gain is set so that a tone this far below full
        scale already reaches the target. Set the tone’s level to minus the overlap to read the target itself.
      </p>
    </>
  );
}
