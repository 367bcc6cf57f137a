/** From a chosen device to a source that runs: the acquisition recipe, step by step. */
import { grantedBy, openMicrophone } from '../capture/open-microphone.ts';
import { canReadTracks, DeviceTrackSource } from '../sources/device-track-source.ts';
import { DeviceWorkletSource } from '../sources/device-worklet-source.ts';
import type { SampleSource, SourceEvents } from '../sources/sample-source.ts';
import type { ContextKeeper } from './context-keeper.ts';
import type { EngineState, Granted } from './engine-state.ts';

type DevicePath = 'track-processor' | 'worklet';

export interface OpenedDevice {
  track: MediaStreamTrack;
  source: SampleSource;
  /** Context the samples pass through; `null` on the path around it. */
  context: AudioContext | null;
  granted: Granted;
  capturePath: NonNullable<EngineState['capturePath']>;
  /** To be given to the analysis Worker. */
  port: MessagePort;
}

/**
 * Reading the track directly lost no frame in a quiet half hour on either input
 * measured, and none of its own on a machine with five times the work it could
 * do; the audio graph lost and zeroed blocks in both, unannounced, for it has
 * to bridge two clocks (tests/bench/capture-paths/FIGURES.md). The worklet
 * remains the way where a page may not read tracks.
 */
function preferredPaths(): DevicePath[] {
  return canReadTracks() ? ['track-processor', 'worklet'] : ['worklet'];
}

/**
 * @param isCurrent false once the user has moved on; what was opened by then is closed again
 * @returns `null` if the user moved on
 * @throws TroubleError when no path delivers samples
 */
export async function openDevice(
  deviceId: string | null,
  contexts: ContextKeeper,
  events: SourceEvents,
  isCurrent: () => boolean,
): Promise<OpenedDevice | null> {
  const paths = preferredPaths();
  for (const [index, path] of paths.entries()) {
    const track = await openMicrophone(deviceId);
    if (!isCurrent()) {
      track.stop();
      return null;
    }
    try {
      const opened = await openPath(path, track, contexts, events);
      if (isCurrent()) return opened;
      opened.source.stop();
      return null;
    } catch (error) {
      track.stop();
      if (!isCurrent()) return null;
      // The next path gets a stream of its own; only the last one's failure is the user's to know.
      if (index === paths.length - 1) throw error;
    }
  }
  return null;
}

async function openPath(
  path: DevicePath,
  track: MediaStreamTrack,
  contexts: ContextKeeper,
  events: SourceEvents,
): Promise<OpenedDevice> {
  if (path === 'worklet') return openThroughGraph(track, contexts, events);
  const source = new DeviceTrackSource(track);
  source.listen(events);
  const port = await startInto(source);
  const granted = grantedBy(track, source.sampleRateHz);
  return { track, source, context: null, granted, capturePath: path, port };
}

async function openThroughGraph(
  track: MediaStreamTrack,
  contexts: ContextKeeper,
  events: SourceEvents,
): Promise<OpenedDevice> {
  let context = contexts.at(track.getSettings().sampleRate ?? null);
  let source = new DeviceWorkletSource(track, context);
  let port: MessagePort;
  try {
    source.listen(events);
    port = await startInto(source);
  } catch (error) {
    // Older Firefox refuses to bridge two rates; at the output's own it can.
    if (!(error instanceof DOMException) || error.name !== 'NotSupportedError') throw error;
    context = contexts.atOutputRate();
    source = new DeviceWorkletSource(track, context);
    source.listen(events);
    port = await startInto(source);
  }
  // Outside a user's gesture this stays pending for ever; the watch reports a context that sleeps.
  void context.resume();
  return {
    track,
    source,
    context,
    granted: grantedBy(track, context.sampleRate),
    capturePath: 'worklet',
    port,
  };
}

/** Starts a source into a fresh channel and returns the analysis Worker's end of it. */
export async function startInto(source: SampleSource): Promise<MessagePort> {
  const pipe = new MessageChannel();
  try {
    await source.start(pipe.port1);
    return pipe.port2;
  } catch (error) {
    pipe.port2.close();
    throw error;
  }
}
