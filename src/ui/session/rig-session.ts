/** The practice rig as the screen holds it: its controls, what its radio plays, and the source it makes. */
import { soundEngine } from '../../audio/engine/sound-engine.ts';
import { RigSource } from '../../audio/sources/rig-source.ts';
import type { RunSound } from '../../dsp/tones/run-sound.ts';
import type { ToneSpec } from '../../dsp/tones/spec.ts';
import type { JobChannel } from '../../job/document.ts';
import { controlsAsFound, DEMO_CONTROLS, DEMO_RIG, DEMO_TONE } from '../../rig/demo-rig.ts';
import { faultyRig, type RigFaultId } from '../../rig/faults.ts';
import type { RigConfig, RigControls, RigSineTone, RigTone, RigTrackTone } from '../../rig/rig.ts';
import { observable } from '../live/observable.ts';

/** The vehicle, with whatever is wrong with it. */
export const rigConfig = observable<RigConfig>(DEMO_RIG);
export const rigFaults = observable<readonly RigFaultId[]>([]);
/** Why a fault that was asked for is not there, one sentence. */
export const rigTrouble = observable<string | null>(null);
export const rigControls = observable<RigControls>(DEMO_CONTROLS);
export const rigTone = observable<RigTone>(DEMO_TONE);

/** What the radio's own tone was before a track took its place. */
let sine: RigSineTone = DEMO_TONE;
let source: RigSource | null = null;

/** How many times as fast as a vehicle the rig runs; a wait for it is that much shorter. */
let pace = 1;

/** @param times 1 for real time */
export function provideRig(times: number): void {
  pace = times;
  soundEngine.provideRig(() => {
    source = new RigSource(rigConfig.get(), rigControls.get(), rigTone.get(), pace);
    return source;
  });
}

/** Another vehicle of the same kind, as found, with these faults; the radio plays on. */
export function practiseFaults(faults: readonly RigFaultId[]): void {
  const config = faults.reduce(faultyRig, DEMO_RIG);
  const { probe } = rigControls.get();
  source = null;
  rigFaults.set(faults);
  rigConfig.set(config);
  rigControls.set({ ...controlsAsFound(config), probe });
  const { phase, source: chosen } = soundEngine.getState();
  if (chosen?.kind !== 'rig' || phase === 'idle' || phase === 'stopped') return;
  soundEngine.stop();
  void soundEngine.start({ kind: 'rig' });
}

export function setRigControls(part: Partial<RigControls>): void {
  const next = { ...rigControls.get(), ...part };
  source?.setControls(next);
  rigControls.set(next);
}

function play(tone: RigTone, afterSeconds = 0): void {
  source?.setTone(tone, afterSeconds);
  rigTone.set(tone);
}

/** Whether the radio makes it by itself, and no stick is played. */
export function isOwnTone(tone: RigTone): tone is RigSineTone {
  return tone.kind === 'sine' || tone.kind === 'silence';
}

/** The radio plays a sine, or nothing; what is left out stays as in the last one. */
export function setRigTone(part: Partial<RigSineTone>): void {
  sine = { ...sine, ...part };
  play(sine);
}

/** The radio plays a tone of the tone set from a stick, from its beginning. @param afterSeconds of the rig's time */
export function playOnRig(
  spec: ToneSpec,
  channels: RigTrackTone['channels'],
  loop: boolean,
  afterSeconds = 0,
): void {
  play({ kind: 'track', spec, channels, loop }, afterSeconds);
}

/** The radio plays a run track from a stick, from its beginning. @param afterSeconds of the rig's time */
export function playRunOnRig({ durationSeconds, markers, parts }: RunSound, afterSeconds: number): void {
  play({ kind: 'run', run: { durationSeconds, markers, parts } }, afterSeconds);
}

export function silenceRig(): void {
  setRigTone({ kind: 'silence' });
}

/** Moves the measuring lead, or the microphone: a channel's id or one of the rig's points. */
export function probeAt(point: string): void {
  setRigControls({ probe: point });
}

export function rigHas(channelId: string): boolean {
  return rigConfig.get().channels.some((channel) => channel.id === channelId);
}

export function setRigGain(channelId: string, setting: number): void {
  const held = Math.min(1, Math.max(0, setting));
  setRigControls({ gains: { ...rigControls.get().gains, [channelId]: held } });
}

/** Moves the lead, or the microphone, and puts back what another station has unplugged or bypassed. */
export function probeWhole(point: string): void {
  setRigControls({ probe: point, muted: [], filtersOff: false });
}

/**
 * Moves the measuring lead to a channel and puts its setting tone on the radio, at this level, playing or not
 * as before. What another station has unplugged or bypassed is put back.
 */
export function probeChannel(channel: JobChannel, levelDbfs: number = channel.tone.levelDbfs): void {
  if (!rigHas(channel.id)) return;
  probeWhole(channel.id);
  setRigTone({
    frequencyHz: channel.tone.frequencyHz,
    levelDbfs,
    channels: channel.fedBy,
  });
}

/** The radio plays its setting tone, at this volume step if one is known. */
export function playAtStep(volumeStep: number | null): void {
  if (volumeStep !== null) setRigControls({ volumeStep });
  setRigTone({ kind: 'sine' });
}

/** Resolves after so many seconds of the rig's own time: a machine that falls behind is waited for. */
export async function rigSeconds(seconds: number): Promise<void> {
  await source?.after(seconds);
}

/** How long that is on the clock of whoever waits. */
export function rigWaitSeconds(seconds: number): number {
  return seconds / pace;
}
