/**
 * One source from opening to closing: what was asked for, what runs, what is
 * known against it. Closed once, it says nothing more, whatever still arrives.
 */
import type { Doubt } from '../../dsp/reading.ts';
import type { AnalysisLink } from '../analysis/analysis-link.ts';
import { doubtsOfGrant } from '../capture/doubts-of-grant.ts';
import { grantedBy } from '../capture/open-microphone.ts';
import { FileSource } from '../sources/file-source.ts';
import type { SampleSource } from '../sources/sample-source.ts';
import type { ContextKeeper } from './context-keeper.ts';
import { watchDevice } from './device-watch.ts';
import type { EngineState, SourceChoice, Trouble } from './engine-state.ts';
import { type OpenedDevice, openDevice, startInto } from './open-device.ts';

export interface SessionEvents {
  onRunning(change: Pick<EngineState, 'granted' | 'capturePath'>): void;
  onGranted(granted: EngineState['granted']): void;
  /** No more samples will come. */
  onLost(trouble: Trouble['kind']): void;
  onSourceTrouble(trouble: Trouble): void;
  onHeld(trouble: Trouble['kind']): void;
  onReleased(): void;
  onEnded(): void;
  onDevicesChanged(): void;
}

export interface SessionParts {
  contexts: ContextKeeper;
  analysis: AnalysisLink;
  makeRig: (() => SampleSource) | null;
}

export class SourceSession {
  readonly choice: SourceChoice;
  readonly #parts: SessionParts;
  readonly #events: SessionEvents;
  #source: SampleSource | null = null;
  #device: OpenedDevice | null = null;
  #endWatch: (() => void) | null = null;
  #attachedRateHz: number | null = null;
  #closed = false;
  #pageHidden = false;
  #sourceChanged = false;

  constructor(choice: SourceChoice, parts: SessionParts, events: SessionEvents) {
    this.choice = choice;
    this.#parts = parts;
    this.#events = events;
  }

  get closed(): boolean {
    return this.#closed;
  }

  /** Id of the device that is open, which the browser may know even where the system's default was asked for. */
  get deviceId(): string | null {
    return this.#device?.track.getSettings().deviceId ?? null;
  }

  /** `null` before samples flow. */
  get sampleRateHz(): number | null {
    return this.#attachedRateHz;
  }

  /** @throws whatever keeps the source from running; a session closed meanwhile resolves quietly. */
  async open(): Promise<void> {
    if (this.choice.kind === 'device') return this.#openDevice(this.choice.deviceId);
    // Held from the start, so that a close in between reaches it.
    const source = this.#makeSource(this.choice);
    this.#source = source;
    source.listen?.(this.#sourceEvents());
    const port = await startInto(source);
    if (this.#closed) return source.stop();
    this.#attach(source, port, 0);
    this.#events.onRunning({ granted: null, capturePath: 'direct' });
  }

  /** See `SampleSource.hold`; 0 where nothing can be told. */
  async hold(): Promise<number> {
    return (await this.#source?.hold?.()) ?? 0;
  }

  release(): void {
    this.#source?.release?.();
  }

  pause(): void {
    this.#source?.pause();
  }

  resume(): void {
    // No window may span the pause.
    this.#parts.analysis.reset();
    this.#source?.resume();
    if (this.#device?.context) void this.#device.context.resume();
  }

  close(): void {
    if (this.#closed) return;
    this.#closed = true;
    this.#endWatch?.();
    this.#source?.stop();
    this.#parts.analysis.detach();
  }

  #makeSource(choice: Exclude<SourceChoice, { kind: 'device' }>): SampleSource {
    if (choice.kind === 'file') return new FileSource(choice.file, choice.loop);
    if (this.#parts.makeRig === null) throw new Error('no practice rig was provided');
    return this.#parts.makeRig();
  }

  async #openDevice(deviceId: string | null): Promise<void> {
    const stillWanted = () => !this.#closed;
    const device = await openDevice(deviceId, this.#parts.contexts, this.#sourceEvents(), stillWanted);
    if (device === null) return;
    this.#device = device;
    this.#source = device.source;
    this.#pageHidden = document.visibilityState !== 'visible';
    this.#endWatch = watchDevice(device.track, device.context, {
      onLost: (kind) => this.#tell(() => this.#events.onLost(kind)),
      onHeld: (kind) => this.#events.onHeld(kind),
      onReleased: () => this.#events.onReleased(),
      onPageHidden: (hidden) => this.#setHidden(hidden),
      onReconfigured: () => this.#reconfigured(device),
      onDevicesChanged: () => this.#events.onDevicesChanged(),
    });
    this.#attach(device.source, device.port, warmUpSeconds());
    this.#events.onRunning({ granted: device.granted, capturePath: device.capturePath });
    this.#events.onDevicesChanged();
  }

  #attach(source: SampleSource, port: MessagePort, warmUp: number): void {
    const { sampleRateHz, channelCount } = source;
    this.#attachedRateHz = sampleRateHz;
    this.#tellDoubts();
    this.#parts.analysis.attach({ sampleRateHz, channelCount, warmUpSeconds: warmUp, port });
  }

  #sourceEvents() {
    return {
      onEnded: () => this.#tell(() => this.#events.onEnded()),
      onTrouble: (trouble: Trouble) => this.#tell(() => this.#events.onSourceTrouble(trouble)),
    };
  }

  #tell(event: () => void): void {
    if (!this.#closed) event();
  }

  #setHidden(hidden: boolean): void {
    this.#pageHidden = hidden;
    this.#tellDoubts();
    // What came in while hidden is not to be trusted afterwards either.
    if (!hidden) this.#parts.analysis.reset();
  }

  #reconfigured(device: OpenedDevice): void {
    const granted = grantedBy(device.track, device.granted.contextRateHz);
    this.#sourceChanged ||= granted.label !== device.granted.label;
    device.granted = granted;
    this.#tellDoubts();
    this.#parts.analysis.reset();
    this.#events.onGranted(granted);
  }

  #tellDoubts(): void {
    const doubts: Doubt[] = this.#device === null ? [] : doubtsOfGrant(this.#device.granted);
    if (this.#pageHidden) doubts.push('page-hidden');
    if (this.#sourceChanged) doubts.push('source-changed');
    this.#parts.analysis.configure({ standingDoubts: doubts });
  }
}

/** Firefox corrects its rate for seconds after an input opens (platform notes, 2.3). */
function warmUpSeconds(): number {
  return /Firefox\//.test(navigator.userAgent) ? 6 : 1;
}
