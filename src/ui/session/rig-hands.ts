/** What the hands would do at the vehicle: on the practice rig it happens by itself, elsewhere nothing does. */
import type { Job } from '../../job/document.ts';
import { isOnRig } from '../signal/signal.ts';
import { probeAt, rigSeconds, setRigControls } from './rig-session.ts';

/** The rig's controls glide, and a cabin rings on, for about this long. */
const SETTLE_SECONDS = 0.25;

/** The measuring lead at a channel's terminals. */
export async function leadTo(channelId: string): Promise<void> {
  if (!isOnRig()) return;
  probeAt(channelId);
  await rigSeconds(SETTLE_SECONDS);
}

/** The microphone at a seat, and no other channel plugged in. */
export async function listenTo(job: Job, channelId: string, position: number): Promise<void> {
  if (!isOnRig()) return;
  const muted = job.channels.map((channel) => channel.id).filter((id) => id !== channelId);
  setRigControls({ probe: 'cabin', muted, position });
  await rigSeconds(SETTLE_SECONDS);
}
