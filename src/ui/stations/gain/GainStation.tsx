import { useEffect, useMemo, useState, useSyncExternalStore } from 'react';
import { soundEngine } from '../../../audio/engine/sound-engine.ts';
import type { Job, JobChannel } from '../../../job/document.ts';
import { ohms, watts } from '../../../job/format/quantity.ts';
import { Aim } from '../../aim/Aim.tsx';
import { aimWords } from '../../aim/aim-words.ts';
import { CautionsFolded, CautionsGate } from '../../cautions/Cautions.tsx';
import { cautionsRead } from '../../cautions/confirmed.ts';
import { KneeTrace } from '../../knee-trace/KneeTrace.tsx';
import { useObservable } from '../../live/observable.ts';
import { Announcer } from '../../outputs/Announcer.tsx';
import { GainKnob } from '../../rig/GainKnob.tsx';
import { RigPanel } from '../../rig/RigPanel.tsx';
import { go } from '../../route/route.ts';
import { calibration } from '../../session/calibration.ts';
import { channelProgress, recordsOf } from '../../session/channel-progress.ts';
import {
  closeGain,
  gainEvent,
  gainNow,
  gainSeconds,
  newTurn,
  openGain,
  useGain,
} from '../../session/gain-session.ts';
import { gainToneLevel, openGainTone } from '../../session/gain-tone.ts';
import { planOf } from '../../session/plan-of.ts';
import { playAtStep, probeChannel, rigHas } from '../../session/rig-session.ts';
import { Instruction } from '../parts/Instruction.tsx';
import { StationHelp } from '../parts/StationHelp.tsx';
import { AimSum } from './AimSum.tsx';
import { type Accepted, acceptReading } from './accept-reading.ts';
import { BeforeChannel } from './BeforeChannel.tsx';
import { Ceilings } from './Ceilings.tsx';
import { ChannelChooser } from './ChannelChooser.tsx';
import { ConditionsForm } from './ConditionsForm.tsx';
import { GainFigure } from './GainFigure.tsx';
import { JustAccepted } from './JustAccepted.tsx';
import './gain.css';
import { MeterForm } from './MeterForm.tsx';
import { Records } from './Records.tsx';
import { TonePanel } from './TonePanel.tsx';
import { useUnheard } from './unheard.ts';
import { WorkPanel } from './WorkPanel.tsx';
import { isForHands } from './work.ts';

function useRig(job: Job, channel: JobChannel): boolean {
  const { source, phase } = useSyncExternalStore(soundEngine.subscribe, soundEngine.getState);
  const onRig = source?.kind === 'rig' && phase !== 'idle' && phase !== 'stopped' && rigHas(channel.id);
  useEffect(() => {
    openGainTone(channel);
    if (onRig) probeChannel(channel, gainToneLevel(channel));
  }, [onRig, channel]);
  const cleanStep = highestCleanStep(job);
  useEffect(() => {
    // Other stations leave the radio silent, at a volume of their own.
    if (onRig) playAtStep(cleanStep);
  }, [onRig, cleanStep]);
  return onRig;
}

/** What the Source station found last; `null` before it did. */
function highestCleanStep(job: Job): number | null {
  const last = job.records.filter((record) => record.kind === 'source').at(-1);
  return last?.kind === 'source' ? last.result.highestCleanStep : null;
}

/** Opens the channel's fold; the sentence says why there is nothing to aim at. */
function useGainOf(job: Job, channelId: string): string | null {
  const [refusal, setRefusal] = useState<string | null>(null);
  useEffect(() => setRefusal(openGain(job, channelId)), [job, channelId]);
  useEffect(() => closeGain, []);
  return refusal;
}

function ratingWords(job: Job, channel: JobChannel): string {
  const plan = planOf(job, channel.id);
  if (typeof plan === 'string') return 'no target';
  return `${watts(plan.cleanWatts)} into ${ohms(plan.loadOhms)}`;
}

function spokenState(): string {
  const state = gainNow();
  return state === null ? '' : `${aimWords(state.aim).words}. ${state.instruction}`;
}

/** Listening, but nothing says what a volt is: the way to the place that does. */
function NeedsScale() {
  const known = useObservable(calibration);
  const way = useGain((state) => state?.task.way ?? 'wire');
  const heard = useGain((state) => state?.latest != null);
  if (known !== null || way === 'meter' || !heard) return null;
  return (
    <button type="button" className="act" onClick={() => go({ station: 'input', channelId: null })}>
      Calibrate the input
    </button>
  );
}

function Meter({ onClose }: { onClose: () => void }) {
  const way = useGain((state) => state?.task.way ?? 'wire');
  return (
    <MeterForm
      onVolts={(volts) => {
        if (gainNow()?.task.way !== 'meter') gainEvent({ type: 'way', way: 'meter' });
        gainEvent({ type: 'meter', volts, seconds: gainSeconds() });
      }}
      onWire={way === 'meter' ? () => gainEvent({ type: 'way', way: 'wire' }) : null}
      onClose={onClose}
    />
  );
}

function Turning({
  job,
  channel,
  onRig,
  onChannel,
}: {
  job: Job;
  channel: JobChannel;
  onRig: boolean;
  onChannel: (channelId: string) => void;
}) {
  const instruction = useGain((state) => state?.instruction ?? '');
  const handsOn = useGain((state) => state === null || isForHands(state));
  const unheard = useUnheard();
  const [typing, setTyping] = useState(false);
  const [said, setSaid] = useState<Accepted | null>(null);
  const accept = () => {
    setTyping(false);
    acceptReading(job.id).then(setSaid, (error: unknown) => setSaid({ fault: String(error), words: null }));
  };
  return (
    <>
      <Instruction className="gain-do" live="off">
        {said?.fault === null
          ? 'Recorded: go on, once the next channel has what it needs.'
          : (unheard ?? instruction)}
      </Instruction>
      <GainFigure />
      <Aim read={() => gainNow()?.aim ?? null} toleranceDb={channel.toleranceDb} />
      <Announcer read={spokenState} />
      <NeedsScale />
      {onRig && handsOn && <GainKnob channelId={channel.id} name={channel.name} />}
      {typing && <Meter onClose={() => setTyping(false)} />}
      {said?.fault === null ? (
        <JustAccepted
          words={said.words}
          job={job}
          channelId={channel.id}
          onChannel={onChannel}
          onAgain={() => setSaid(null)}
        />
      ) : (
        <WorkPanel
          job={job}
          channel={channel}
          onRig={onRig}
          onAccept={accept}
          onMeter={() => setTyping(!typing)}
        />
      )}
      {said !== null && said.fault !== null && (
        <p role="alert" className="wrong">
          {said.fault}
        </p>
      )}
    </>
  );
}

/** Turn until the aim is centred; stop before the knee. */
export function GainStation({
  job,
  channel,
  onChannel,
}: {
  job: Job;
  channel: JobChannel;
  onChannel: (channelId: string) => void;
}) {
  // In this order: the level of the tone that the rig is to play is the opened channel's.
  const refusal = useGainOf(job, channel.id);
  const onRig = useRig(job, channel);
  const read = useObservable(cautionsRead);
  const choices = useMemo(
    () => job.channels.map((one) => ({ id: one.id, name: one.name, ...channelProgress(job, one.id) })),
    [job],
  );
  return (
    <div className="station gain-station">
      <div className="gain-head">
        <h1>
          Gain <small>{ratingWords(job, channel)}</small>
        </h1>
        <ChannelChooser choices={choices} current={channel.id} onChoose={onChannel} />
      </div>
      <div className="gain-hands">
        {refusal !== null && <p className="note over">{refusal}</p>}
        {refusal === null && !onRig && !read && <CautionsGate />}
        {refusal === null && (
          <Turning key={channel.id} job={job} channel={channel} onRig={onRig} onChannel={onChannel} />
        )}
      </div>
      <div className="gain-picture">
        <KneeTrace read={gainNow} />
        <AimSum />
        <button type="button" className="act plain new-turn" onClick={newTurn}>
          Begin a new turn
        </button>
        {onRig ? (
          <RigPanel
            show={['volume', 'tone', 'speakers', 'supply']}
            channels={job.channels}
            onStirred={newTurn}
          />
        ) : (
          <TonePanel key={channel.id} job={job} channel={channel} />
        )}
        {!onRig && (
          <section className="sheet" aria-labelledby="conditions-title">
            <h2 id="conditions-title">Conditions</h2>
            <ConditionsForm key={job.id} jobId={job.id} />
          </section>
        )}
        <Ceilings job={job} channel={channel} />
        <StationHelp
          does="Follows the voltage while you turn each gain, says when it is right and where the clean part ends, and names the stage that clips."
          needs="You need the input at the amplifier’s output through a divider (or a multimeter), and the setting tone playing."
        />
        <section className="sheet" aria-labelledby="before-title">
          <h2 id="before-title">Plug, lead and tone</h2>
          <BeforeChannel job={job} channel={channel} />
        </section>
        <section className="sheet" aria-labelledby="records-title">
          <h2 id="records-title">Accepted on this channel</h2>
          <Records records={recordsOf(job, channel.id)} />
        </section>
        {(onRig || read) && (
          <CautionsFolded
            title={onRig ? 'Practice: nothing here can be hurt. In a vehicle, read these first' : 'Cautions'}
          />
        )}
      </div>
    </div>
  );
}
