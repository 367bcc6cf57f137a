/**
 * What should sound for a measurement, and who makes it: the practice rig's
 * radio by itself, this device through its own output, or the radio from the
 * tone set, by hand.
 */
import { soundEngine } from '../../audio/engine/sound-engine.ts';
import type { RunSound } from '../../dsp/tones/run-sound.ts';
import type { ToneSpec } from '../../dsp/tones/spec.ts';
import type { RigTone } from '../../rig/rig.ts';
import { observable } from '../live/observable.ts';
import {
  playOnRig,
  playRunOnRig,
  rigSeconds,
  rigTone,
  rigWaitSeconds,
  setRigTone,
  silenceRig,
} from '../session/rig-session.ts';
import { tonePlayer } from '../session/tone-player.ts';

export interface Signal {
  spec: ToneSpec;
  channels: 'left' | 'right' | 'both';
  /** For the person at the screen: "sweep on the left". */
  description: string;
  /** Played over and over, so that it may be begun at any time; a sweep is not. */
  loop: boolean;
}

export type SignalMaker = 'rig' | 'this-device' | 'radio';

/** Whether somebody at this station has said that this device may play tones close to full scale. */
export const loudConfirmed = observable(false);

/** Who plays where there is no practice rig; the radio, until this device is chosen. */
export const chosenMaker = observable<'this-device' | 'radio'>('radio');

export function isOnRig(): boolean {
  const { source, phase } = soundEngine.getState();
  return source?.kind === 'rig' && phase !== 'idle' && phase !== 'stopped';
}

export function signalMaker(): SignalMaker {
  return isOnRig() ? 'rig' : chosenMaker.get();
}

/** What the rig's radio was last given to play here; `null` once it has been ended. */
let onTheRadio: RigTone | null = null;

/** A sine runs through; every other tone has its beginning and its end. */
function soundOnRig({ spec, channels, loop }: Signal, afterSeconds: number): void {
  const { kind } = spec;
  if (kind === 'sine' && loop)
    setRigTone({ kind, frequencyHz: spec.frequencyHz, levelDbfs: spec.levelDbfs, channels });
  else playOnRig(spec, channels, loop, afterSeconds);
  onTheRadio = rigTone.get();
}

/** Resolves after so many seconds of what is heard: the practice rig may run faster than the clock. */
function sourceSeconds(seconds: number): Promise<void> {
  if (isOnRig()) return rigSeconds(seconds);
  return new Promise((resolve) => setTimeout(resolve, 1000 * seconds));
}

/** How long a recording of so many seconds keeps whoever waits for it. */
export function clockSeconds(seconds: number): number {
  return isOnRig() ? rigWaitSeconds(seconds) : seconds;
}

/** From the press to a steady sound at the input: fades, buffers of output and input, a settled filter. */
const SETTLE_SECONDS: Record<SignalMaker, number> = { rig: 0.25, 'this-device': 0.8, radio: 0 };

/**
 * Resolves once the signal sounds and has settled; at once where a hand plays it on the radio.
 *
 * @throws Error with one sentence where this device cannot play it
 */
export async function playSignal(signal: Signal): Promise<void> {
  const maker = signalMaker();
  const { spec, channels, description } = signal;
  if (maker === 'rig') soundOnRig(signal, 0);
  if (maker === 'this-device')
    await tonePlayer.play({ spec, channels, description, loudConfirmed: loudConfirmed.get() });
  await sourceSeconds(SETTLE_SECONDS[maker]);
}

/**
 * Begins a signal that is to be heard whole, once a recording has had time to begin. On the rig both are counted
 * by its own time, so that a busy machine cannot cut either; elsewhere `isStillWanted` is asked when it comes to it.
 *
 * @throws Error with one sentence where this device cannot play it
 */
export async function playAhead(
  signal: Signal,
  aheadSeconds: number,
  isStillWanted: () => boolean,
): Promise<void> {
  if (signalMaker() === 'rig') return soundOnRig(signal, aheadSeconds);
  await sourceSeconds(aheadSeconds);
  if (isStillWanted()) await playSignal(signal);
}

/**
 * The practice rig's radio plays a run track from its beginning; until then it is silent.
 *
 * @param aheadSeconds of the rig's own time until it begins
 * @throws RangeError with one sentence where the rig cannot play it
 */
export function playRunAhead(run: RunSound, aheadSeconds: number): void {
  silenceRig();
  playRunOnRig(run, aheadSeconds);
  onTheRadio = rigTone.get();
}

/** Ends what `playSignal` began; whatever has taken its place meanwhile, at another station, plays on. */
export async function stopSignal(): Promise<void> {
  const maker = signalMaker();
  if (maker === 'rig') {
    if (onTheRadio !== null && rigTone.get() === onTheRadio) silenceRig();
    onTheRadio = null;
  }
  if (maker === 'this-device') await tonePlayer.stop();
}
