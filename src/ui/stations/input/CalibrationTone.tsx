import type { Job } from '../../../job/document.ts';
import { GENERAL_CHANNELS } from '../../../job/tone-tracks/channels.ts';
import { settingToneHz } from '../../../plan/tone/setting-tone.ts';
import { CautionsFolded } from '../../cautions/Cautions.tsx';
import { trackFile } from '../../session/level-track.ts';
import { SignalPanel } from '../../signal/SignalPanel.tsx';
import type { Signal } from '../../signal/signal.ts';

/** Where every multimeter is specified, clear of the mains; high enough for an output that cuts bass. */
const TONE: Signal = {
  spec: {
    kind: 'sine',
    frequencyHz: settingToneHz({ highPassHz: 100, lowPassHz: 800 }),
    levelDbfs: -12,
    durationSeconds: 30,
  },
  channels: 'both',
  description: 'the calibration tone',
  loop: true,
};

/** Tone set's steady tone of the first channel; of a job the reduced one, a hundredth of the power. */
function track(job: Job | null): string {
  if (job === null) return trackFile(null, `${GENERAL_CHANNELS[0]?.id}-level`);
  return trackFile(job, `${job.channels[0]?.id}-reduced`);
}

/** A steady tone for the multimeter and the input to read at once, from this device or from the radio. */
export function CalibrationTone({ job }: { job: Job | null }) {
  return (
    <details>
      <summary>A tone to calibrate with</summary>
      <div className="fold-body">
        <SignalPanel signal={TONE} track={track(job)} byHand />
        <CautionsFolded title="Before a tone plays through an amplifier, read these" />
      </div>
    </details>
  );
}
