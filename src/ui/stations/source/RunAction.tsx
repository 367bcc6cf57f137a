import { useEffect, useRef, useState, useSyncExternalStore } from 'react';
import { soundEngine } from '../../../audio/engine/sound-engine.ts';
import { inputChannel } from '../../session/input-channel.ts';
import { LoudTick } from '../../signal/LoudTick.tsx';
import { runTake } from '../../signal/run-take.ts';
import { type Signal, signalMaker } from '../../signal/signal.ts';
import { type ActingSession, busyWords } from '../parts/TakeAction.tsx';
import { LOUDEST, useWhyNotReady } from './ready-to-play.ts';

export interface RunPlan {
  signal: Signal;
  purpose: unknown;
  /** Of the chosen input channel, where the kind asks for one. */
  request:
    | { kind: 'tone'; frequencyHz: number }
    | { kind: 'each-channel'; frequencyHz: number }
    | { kind: 'stretches'; frequencyHz: number };
  seconds: number;
  /** What a hand has to play before pressing, in a few words. */
  byHand: string;
}

/** Whether anything can go on without a hand: the same tracks and the same place. */
function goesOn(): boolean {
  return signalMaker() !== 'radio';
}

async function runAll(
  session: ActingSession,
  next: () => RunPlan | null,
  isLeft: () => boolean,
): Promise<string | null> {
  for (let before = ''; ; ) {
    const plan = next();
    const key = JSON.stringify(plan?.purpose ?? null);
    // The same again means that it was not heard; the instruction says so.
    if (plan === null || key === before || isLeft()) return null;
    before = key;
    const { kind, frequencyHz } = plan.request;
    const request =
      kind === 'each-channel'
        ? ({ kind, frequencyHz } as const)
        : ({ kind, frequencyHz, channelIndex: inputChannel.get() } as const);
    const { signal, purpose, seconds } = plan;
    const taken = await runTake(session, { signal, purpose, request, seconds });
    if (!taken) return session.fault();
    if (!goesOn()) return null;
  }
}

/**
 * The part's one main action: on the rig, and with this device as player, it takes one recording after the
 * other for as long as nothing has to be done by hand; with tracks played on the radio, one a press.
 *
 * @param next what to take now; `null` once a hand is needed
 */
export function RunAction({
  session,
  label,
  why,
  next,
}: {
  session: ActingSession;
  label: string;
  why: string | null;
  next: () => RunPlan | null;
}) {
  const busy = useSyncExternalStore(session.subscribe, session.busy);
  const notReady = useWhyNotReady();
  const [isRunning, setRunning] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  const isLeft = useRef(false);
  useEffect(() => {
    isLeft.current = false;
    return () => {
      isLeft.current = true;
      if (session.busy()?.what === 'recording') soundEngine.dropTake();
    };
  }, [session]);
  const blocked = notReady ?? why;
  const press = () => {
    if (blocked !== null || isRunning) return;
    setFault(null);
    setRunning(true);
    runAll(session, next, () => isLeft.current)
      .then(setFault, (error: unknown) => setFault(error instanceof Error ? error.message : String(error)))
      .finally(() => setRunning(false));
  };
  const byHand = signalMaker() === 'radio' ? next()?.byHand : undefined;
  return (
    <div className="take-action">
      <LoudTick signal={LOUDEST} />
      <button
        type="button"
        className="act main big"
        aria-disabled={blocked !== null || isRunning}
        aria-describedby="run-why"
        onClick={press}
      >
        {isRunning ? busyWords(busy) : byHand === undefined ? label : `${label}: ${byHand} plays`}
      </button>
      <p id="run-why" role="status" className="small soft">
        {blocked ?? fault ?? ''}
      </p>
    </div>
  );
}
