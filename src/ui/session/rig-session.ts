/** The practice rig as the screen holds it: its controls, what its radio plays, and the source it makes. */
import { soundEngine } from '../../audio/engine/sound-engine.ts';
import { RigSource } from '../../audio/sources/rig-source.ts';
import type { ToneSpec } from '../../dsp/tones/spec.ts';
import type { JobChannel } from '../../job/document.ts';
import { DEMO_CONTROLS, DEMO_RIG, DEMO_TONE } from '../../rig/demo-rig.ts';
import type { RigControls, RigSineTone, RigTone } from '../../rig/rig.ts';
import { observable } from '../live/observable.ts';

export const rigControls = observable<RigControls>(DEMO_CONTROLS);
export const rigTone = observable<RigTone>(DEMO_TONE);

/** What the radio's own tone was before a track took its place. */
let sine: RigSineTone = DEMO_TONE;
let source: RigSource | null = null;

export function provideRig(): void {
  soundEngine.provideRig(() => {
    source = new RigSource(DEMO_RIG, rigControls.get(), rigTone.get());
    return source;
  });
}

export function setRigControls(part: Partial<RigControls>): void {
  const next = { ...rigControls.get(), ...part };
  source?.setControls(next);
  rigControls.set(next);
}

function play(tone: RigTone): void {
  source?.setTone(tone);
  rigTone.set(tone);
}

/** The radio plays a sine, or nothing; what is left out stays as in the last one. */
export function setRigTone(part: Partial<RigSineTone>): void {
  sine = { ...sine, ...part };
  play(sine);
}

/** The radio plays a tone of the tone set from a stick, from its beginning. */
export function playOnRig(spec: ToneSpec, channels: RigTone['channels'], loop: boolean): void {
  play({ kind: 'track', spec, channels, loop });
}

export function silenceRig(): void {
  setRigTone({ kind: 'silence' });
}

/** Moves the measuring lead, or the microphone: a channel's id or one of the rig's points. */
export function probeAt(point: string): void {
  setRigControls({ probe: point });
}

export function rigHas(channelId: string): boolean {
  return DEMO_RIG.channels.some((channel) => channel.id === channelId);
}

export function setRigGain(channelId: string, setting: number): void {
  const held = Math.min(1, Math.max(0, setting));
  setRigControls({ gains: { ...rigControls.get().gains, [channelId]: held } });
}

/** Moves the measuring lead to a channel and puts its setting tone on the radio, playing or not as before. */
export function probeChannel(channel: JobChannel): void {
  if (!rigHas(channel.id)) return;
  setRigControls({ probe: channel.id });
  setRigTone({
    frequencyHz: channel.tone.frequencyHz,
    levelDbfs: channel.tone.levelDbfs,
    channels: channel.fedBy,
  });
}
