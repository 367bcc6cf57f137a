/**
 * Plays what the Gain station's fold asks for: the level of the setting tone, and bursts on the second. On the
 * practice rig its radio obeys; else this device's player, where it is the one that plays.
 */
import type { JobChannel } from '../../job/document.ts';
import { isBursting } from '../../procedure/gain/burst/burst-plan.ts';
import type { GainState } from '../../procedure/gain/gain.ts';
import { wantedDbfs } from '../../procedure/gain/wanted-tone.ts';
import { toneFrequency, toneLevel } from '../format/tone-frequency.ts';
import { observable } from '../live/observable.ts';
import { isOnRig } from '../signal/signal.ts';
import { gainEvent, gainNow, gainSeconds, onGain } from './gain-session.ts';
import { setRigTone } from './rig-session.ts';
import { tonePlayer } from './tone-player.ts';

/** Why a burst could not be played, one sentence. */
export const burstFault = observable<string | null>(null);

/** On which sides the channel's tone goes, once it is open. */
let sides: JobChannel['fedBy'] = 'both';
let before: { channelId: string; wanted: number | null; bursting: boolean } | null = null;

export function openGainTone(channel: JobChannel): void {
  sides = channel.fedBy;
}

/** Level at which a channel's tone is to be played as it is opened, dBFS: reduced where it was left so. */
export function gainToneLevel(channel: JobChannel): number {
  const state = gainNow();
  const isOpen = state !== null && state.task.channelId === channel.id;
  return isOpen ? state.task.toneDbfs : channel.tone.levelDbfs;
}

/** Begins the bursts; the state says whether it may (`burstRefusal`). */
export function beginBursts(driver: 'app' | 'track'): void {
  burstFault.set(null);
  gainEvent({ type: 'bursts', driver, seconds: gainSeconds() });
}

function fail(error: unknown): void {
  burstFault.set(error instanceof Error ? error.message : String(error));
  gainEvent({ type: 'bursts-stop', seconds: gainSeconds() });
}

function playHere(state: GainState, levelDbfs: number, burst: boolean): void {
  const { toneHz } = state.task;
  tonePlayer
    .play({
      // The player's own limit ends it long before.
      spec: { kind: 'sine', frequencyHz: toneHz, levelDbfs, durationSeconds: 600 },
      channels: sides,
      description: `${burst ? 'Burst, ' : ''}${toneFrequency(toneHz)} at ${toneLevel(levelDbfs)}`,
      // The bursts' own button was pressed with their levels beside it.
      loudConfirmed: burst,
      burst,
    })
    .catch(fail);
}

function followHere(state: GainState, wanted: number | null, bursting: boolean, wasBursting: boolean): void {
  if (bursting && state.bursts?.driver === 'app') {
    if (wanted !== null) playHere(state, wanted, true);
    // While the fold still listens, the burst may only just have begun to sound: the player's own limit ends it.
    else if (state.bursts.phase === 'resting') void tonePlayer.stop();
  } else if (wasBursting) {
    if (tonePlayer.getState().phase !== 'silent') void tonePlayer.stop();
  } else if (wanted !== null && tonePlayer.getState().phase !== 'silent') {
    playHere(state, wanted, false);
  }
}

function follow(): void {
  const state = gainNow();
  if (state === null) {
    if (before?.bursting) void tonePlayer.stop();
    before = null;
    return;
  }
  const now = { channelId: state.task.channelId, wanted: wantedDbfs(state), bursting: isBursting(state) };
  const was = before;
  before = now;
  if (was === null || was.channelId !== now.channelId) return;
  if (was.wanted === now.wanted && was.bursting === now.bursting) return;
  if (!isOnRig()) followHere(state, now.wanted, now.bursting, was.bursting);
  else if (now.wanted === null) setRigTone({ kind: 'silence' });
  else setRigTone({ levelDbfs: now.wanted, ...(now.bursting || was.bursting ? { kind: 'sine' } : {}) });
}

onGain(follow);
