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

  /** @throws RangeError, nothing changed, for a tone that cannot be played */
  setTone(tone: RigTone): void {
    rigSettings(this.#config, this.#controls, tone);
    this.#tone = tone;
    this.#send({ type: 'tone', tone });
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
      worker.onmessage = (_event: MessageEvent<RigReport>) => {
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
  }

  #send(command: RigCommand, transfer: Transferable[] = []): void {
    this.#worker?.postMessage(command, transfer);
  }
}
