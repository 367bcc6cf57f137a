import { type ComponentProps, type ReactNode, useEffect, useSyncExternalStore } from 'react';
import { soundEngine } from '../../../audio/engine/sound-engine.ts';
import type { Job } from '../../../job/document.ts';
import { useObservable } from '../../live/observable.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import { MARK_WORDS } from '../../marks/mark.ts';
import { RigPanel } from '../../rig/RigPanel.tsx';
import {
  isOwnTone,
  probeAt,
  rigControls,
  rigTone,
  setRigControls,
  setRigTone,
  silenceRig,
} from '../../session/rig-session.ts';
import { foundStep } from '../../session/source-sessions.ts';
import { isOnRig } from '../../signal/signal.ts';
import { ConditionsForm } from '../gain/ConditionsForm.tsx';
import { keptPart } from '../parts/kept-part.ts';
import { LoadPart } from './LoadPart.tsx';
import type { PartProps } from './PartLayout.tsx';
import { SidesPart } from './SidesPart.tsx';
import { SourceCautionsFolded, SourceCautionsGate, sourceCautionsRead } from './SourceCautions.tsx';
import { usePickup } from './use-pickup.ts';
import './source.css';
import { StepsPart } from './StepsPart.tsx';
import { partMark, SOURCE_PARTS, type SourcePart } from './source-parts.ts';
import { TurnOnPart } from './TurnOnPart.tsx';

const RIG_CONTROLS: Record<SourcePart, ComponentProps<typeof RigPanel>['show']> = {
  source: ['volume', 'load-resistors'],
  load: ['volume', 'load-resistors'],
  sides: ['volume', 'probe'],
  'turn-on': ['volume'],
};

const PARTS: Record<SourcePart, (props: PartProps) => ReactNode> = {
  source: StepsPart,
  load: LoadPart,
  sides: SidesPart,
  'turn-on': TurnOnPart,
};

const openPart = keptPart<SourcePart>('source', ['source', 'load', 'sides', 'turn-on']);

/** Silent but for what is measured; left behind as it was found, at the step that gains are set at if that is known. */
function useRadioAsBefore(onRig: boolean): void {
  useEffect(() => {
    if (!onRig) return;
    const before = rigTone.get();
    const { volumeStep } = rigControls.get();
    silenceRig();
    return () => {
      setRigControls({ volumeStep: foundStep.get() ?? volumeStep });
      if (isOwnTone(before)) setRigTone(before);
    };
  }, [onRig]);
}

/** On the practice rig the lead goes where the part needs it. */
function useProbe(job: Job, onRig: boolean, part: SourcePart): void {
  const { point, side } = usePickup(job);
  useEffect(() => {
    if (!onRig) return;
    const at = part === 'load' ? 'radio' : part === 'turn-on' ? 'converter' : point;
    probeAt(`${at}-${side}`);
  }, [onRig, part, point, side]);
}

function PartChooser({
  job,
  part,
  onPart,
}: {
  job: Job;
  part: SourcePart;
  onPart: (part: SourcePart) => void;
}) {
  return (
    <nav className="source-parts" aria-label="Parts of this station">
      {SOURCE_PARTS.map(({ id, name }) => {
        const mark = partMark(job, id);
        return (
          <button
            key={id}
            type="button"
            className="act"
            aria-pressed={part === id}
            onClick={() => onPart(id)}
          >
            <MarkSign mark={mark} />
            {name}
            <span className="unseen">: {MARK_WORDS[mark]}</span>
          </button>
        );
      })}
    </nav>
  );
}

/** How far up is the radio clean, is its load right, does it cut bass as it goes up? */
export function SourceStation({ job }: { job: Job }) {
  const part = useObservable(openPart);
  useSyncExternalStore(soundEngine.subscribe, soundEngine.getState);
  const onRig = isOnRig();
  const read = useObservable(sourceCautionsRead);
  useRadioAsBefore(onRig);
  useProbe(job, onRig, part);
  const isReady = onRig || read;
  const Part = PARTS[part];
  const rig = onRig ? (
    <RigPanel show={RIG_CONTROLS[part]} channels={job.channels} />
  ) : (
    <section className="sheet" aria-labelledby="conditions-title">
      <h2 id="conditions-title">Conditions</h2>
      <ConditionsForm key={job.id} jobId={job.id} />
    </section>
  );
  return (
    <div className="station source-station">
      <div className="source-head">
        <h1>
          Source <small>{job.source.name}</small>
        </h1>
        <PartChooser job={job} part={part} onPart={openPart.set} />
      </div>
      {!onRig && <SourceCautionsGate />}
      {isReady && <Part job={job} onRig={onRig} rig={rig} />}
      {isReady && (
        <SourceCautionsFolded
          title={onRig ? 'Practice: nothing here can be hurt. In a vehicle, read these first' : 'Cautions'}
        />
      )}
    </div>
  );
}
