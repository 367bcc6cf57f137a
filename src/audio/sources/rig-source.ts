/** The practice rig, as a source like any other; its controls and what its radio plays are turned from the page. */

import { checkRigConfig } from '../../rig/check-config.ts';
import type { RigConfig, RigControls, RigTone } from '../../rig/rig.ts';
import { rigSettings } from '../../rig/settings.ts';
import { TroubleError, troubleOf } from '../engine/troubles.ts';
import type { RigCommand, RigReport } from './rig-command.ts';
import type { SampleSource, SourceEvents } from './sample-source.ts';

export class RigSource implements SampleSource {
  readonly #config: RigConfig;
  readonly #pace: number;
  #controls: RigControls;
  #tone: RigTone;
  #worker: Worker | null = null;
  #events: SourceEvents | null = null;
  readonly #awaited = new Map<number, (frame: number) => void>();
  #lastAwaited = 0;
  readonly sampleRateHz: number;
  /** The probe. */
  readonly channelCount = 1;

  /**
   * @param pace how many times as fast as a vehicle it runs; 1 for real time
   * @throws RangeError with one sentence for a rig that cannot be simulated
   */
  constructor(config: RigConfig, controls: RigControls, tone: RigTone, pace: number) {
    checkRigConfig(config);
    rigSettings(config, controls, tone);
    this.#config = config;
    this.#controls = controls;
    this.#tone = tone;
    this.#pace = pace;
    this.sampleRateHz = config.sampleRateHz;
  }

  /** What the controls stand at now; also what a later `start` begins with. */
  get controls(): RigControls {
    return this.#controls;
  }

  get tone(): RigTone {
    return this.#tone;
  }

  /** @throws RangeError, nothing changed, for controls that this rig does not have */
  setControls(controls: RigControls): void {
    rigSettings(this.#config, controls, this.#tone);
    this.#controls = controls;
    this.#send({ type: 'controls', controls });
  }

  /**
   * @param afterSeconds of the rig's own time until it begins
   * @throws RangeError, nothing changed, for a tone that cannot be played
   */
  setTone(tone: RigTone, afterSeconds = 0): void {
    rigSettings(this.#config, this.#controls, tone);
    this.#tone = tone;
    this.#send({ type: 'tone', tone, afterFrames: this.#frames(afterSeconds) });
  }

  listen(events: SourceEvents): void {
    this.#events = events;
  }

  /** @throws TroubleError where the Worker cannot be started */
  start(port: MessagePort): Promise<void> {
    const worker = new Worker(new URL('./rig.worker.ts', import.meta.url), { type: 'module' });
    this.#worker = worker;
    return new Promise((resolve, reject) => {
      let started = false;
      worker.onmessage = ({ data }: MessageEvent<RigReport>) => {
        if (data.type === 'made') return this.#settle(data.id, data.frame);
        started = true;
        resolve();
      };
      worker.onerror = (event) => {
        const trouble = troubleOf('worklet-failed', `The practice rig stopped: ${event.message}`);
        if (started) this.#events?.onTrouble(trouble);
        else reject(new TroubleError(trouble));
      };
      const setup = { config: this.#config, controls: this.#controls, tone: this.#tone, pace: this.#pace };
      this.#send({ type: 'start', ...setup, port }, [port]);
    });
  }

  /**
   * Resolves once so many seconds more are made, by the rig's own time, with everything that was turned before
   * in force; to the next frame. Once the rig is stopped, it resolves at once.
   */
  after(seconds: number): Promise<number> {
    return this.#told((id) => ({ type: 'await', id, frames: this.#frames(seconds) }));
  }

  hold(): Promise<number> {
    return this.#told((id) => ({ type: 'hold', id }));
  }

  release(): void {
    this.#send({ type: 'release' });
  }

  pause(): void {
    this.#send({ type: 'pause' });
  }

  resume(): void {
    this.#send({ type: 'resume' });
  }

  stop(): void {
    this.#events = null;
    this.#send({ type: 'stop' });
    this.#worker?.terminate();
    this.#worker = null;
    for (const id of [...this.#awaited.keys()]) this.#settle(id, 0);
  }

  #frames(seconds: number): number {
    return Math.round(seconds * this.sampleRateHz);
  }

  #told(command: (id: number) => RigCommand): Promise<number> {
    if (this.#worker === null) return Promise.resolve(0);
    this.#lastAwaited += 1;
    const id = this.#lastAwaited;
    this.#send(command(id));
    return new Promise((resolve) => this.#awaited.set(id, resolve));
  }

  #settle(id: number, frame: number): void {
    const resolve = this.#awaited.get(id);
    this.#awaited.delete(id);
    resolve?.(frame);
  }

  #send(command: RigCommand, transfer: Transferable[] = []): void {
    this.#worker?.postMessage(command, transfer);
  }
}
