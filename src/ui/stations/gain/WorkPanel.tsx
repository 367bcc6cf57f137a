import type { Job, JobChannel } from '../../../job/document.ts';
import { gainEvent, gainNow, useGain } from '../../session/gain-session.ts';
import { FindingsList } from '../parts/FindingsList.tsx';
import { AcceptPanel } from './AcceptPanel.tsx';
import { BurstOutcome, BurstPanel } from './BurstPanel.tsx';
import { ConfirmPanel } from './ConfirmPanel.tsx';
import { StagePanel } from './StagePanel.tsx';
import { workOf } from './work.ts';

function OtherWays() {
  const level = useGain((state) => state?.task.level ?? 'planned');
  const work = useGain(workOf);
  return (
    <div className="acts other-ways">
      <button
        type="button"
        className="act plain"
        aria-pressed={level === 'reduced'}
        onClick={() => gainEvent({ type: 'tone-level', level: level === 'reduced' ? 'planned' : 'reduced' })}
      >
        {level === 'reduced' ? 'Back to the planned tone' : 'Set with a tone 20 dB lower'}
      </button>
      {work !== 'unnamed-clipping' && (
        <button type="button" className="act plain" onClick={() => gainEvent({ type: 'stage-check' })}>
          Which stage clips?
        </button>
      )}
    </div>
  );
}

/** What turning the control has shown, where nobody has asked. */
function FoundByTurning() {
  useGain((state) => state?.findings.map((one) => one.fault).join(' ') ?? '');
  return <FindingsList findings={gainNow()?.findings ?? []} nothing={null} />;
}

function Hint() {
  const hint = useGain((state) => state?.hint ?? null);
  return hint === null ? null : <p className="note under small">{hint}</p>;
}

function Main(props: WorkProps) {
  const work = useGain(workOf);
  switch (work) {
    case 'bursts':
      return <BurstPanel />;
    case 'stage':
      return <StagePanel channel={props.channel} onRig={props.onRig} />;
    case 'unnamed-clipping':
      return (
        <button type="button" className="act main big" onClick={() => gainEvent({ type: 'stage-check' })}>
          Name the stage that clips
        </button>
      );
    case 'confirm':
      return (
        <>
          <ConfirmPanel job={props.job} channel={props.channel} onRig={props.onRig} />
          <AcceptPanel isMain={false} onAccept={props.onAccept} onMeter={props.onMeter} />
        </>
      );
    case 'accept':
      return <AcceptPanel isMain onAccept={props.onAccept} onMeter={props.onMeter} />;
  }
}

interface WorkProps {
  job: Job;
  channel: JobChannel;
  onRig: boolean;
  onAccept: () => void;
  onMeter: () => void;
}

/** The one main action of the moment, and the other ways beside it. */
export function WorkPanel(props: WorkProps) {
  const work = useGain(workOf);
  return (
    <>
      <Main {...props} />
      {work !== 'bursts' && <BurstOutcome />}
      {work !== 'stage' && <FoundByTurning />}
      <Hint />
      {work !== 'bursts' && work !== 'stage' && <OtherWays />}
    </>
  );
}
