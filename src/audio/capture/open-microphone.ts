/**
 * Opens an input with all processing off. What the browser grants is compared
 * with what was asked; even that is a statement of intent, so behaviour is
 * tested elsewhere.
 */
import type { Granted } from '../engine/engine-state.ts';
import { TroubleError, troubleOf, troubleOfCapture } from '../engine/troubles.ts';

/** Bare values: `exact` makes some browsers refuse, and none tells more truth for it. */
function rawConstraints(deviceId: string | null): MediaTrackConstraints {
  const raw = {
    echoCancellation: false,
    noiseSuppression: false,
    autoGainControl: false,
    voiceIsolation: false,
    channelCount: { ideal: 2 },
  };
  return deviceId === null ? raw : { ...raw, deviceId: { exact: deviceId } };
}

/**
 * @param deviceId from an earlier enumeration, or `null` for the system's default input
 * @throws TroubleError saying why there is no input and how to go on
 */
export async function openMicrophone(deviceId: string | null): Promise<MediaStreamTrack> {
  if (!globalThis.isSecureContext) throw new TroubleError(troubleOf('not-secure'));
  const devices = navigator.mediaDevices;
  if (!devices?.getUserMedia) throw new TroubleError(troubleOf('no-audio-in-this-browser'));
  prepareAudioSession();
  try {
    const stream = await devices.getUserMedia({ audio: rawConstraints(deviceId) });
    const track = stream.getAudioTracks()[0];
    if (track === undefined) throw new TroubleError(troubleOf('no-device'));
    return track;
  } catch (error) {
    if (error instanceof TroubleError) throw error;
    throw new TroubleError(troubleOfCapture(error, policyAllowsMicrophone()));
  }
}

/** WebKit ends a microphone track unless the page's session is one that records. */
function prepareAudioSession(): void {
  const session = (navigator as { audioSession?: { type: string } }).audioSession;
  if (session) session.type = 'play-and-record';
}

function policyAllowsMicrophone(): boolean {
  const policy = (document as { featurePolicy?: { allowsFeature(name: string): boolean } }).featurePolicy;
  return policy?.allowsFeature('microphone') ?? true;
}

/** What the track says of itself; `null` where the browser keeps silent. */
export function grantedBy(track: MediaStreamTrack, contextRateHz: number): Granted {
  const settings = track.getSettings() as MediaTrackSettings & { voiceIsolation?: boolean };
  return {
    label: track.label,
    sampleRateHz: settings.sampleRate ?? null,
    contextRateHz,
    channelCount: settings.channelCount ?? null,
    // Newer browsers may name a kind of cancellation instead of `true`.
    echoCancellation: settings.echoCancellation === undefined ? null : Boolean(settings.echoCancellation),
    noiseSuppression: settings.noiseSuppression ?? null,
    autoGainControl: settings.autoGainControl ?? null,
    voiceIsolation: settings.voiceIsolation ?? null,
  };
}
