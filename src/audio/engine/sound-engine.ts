/**
 * The one sound engine: alone owns the stream, the context and the analysis
 * Worker, outside React. The screen subscribes and calls verbs.
 */

import { AUDIO_BAND, type Band, type Doubt, type LiveReading } from '../../dsp/reading.ts';
import { AnalysisLink } from '../analysis/analysis-link.ts';
import type { Take } from '../blocks.ts';
import type { SampleSource } from '../sources/sample-source.ts';
import { ContextKeeper } from './context-keeper.ts';
import { listDevices } from './device-list.ts';
import type { EngineState, ReadingListener, SourceChoice, Trouble } from './engine-state.ts';
import { EngineStore } from './engine-store.ts';
import { ReadingWatch } from './reading-watch.ts';
import { isSameSource } from './same-source.ts';
import { type SessionEvents, SourceSession } from './source-session.ts';
import { TroubleError, troubleOf } from './troubles.ts';

export class SoundEngine {
  readonly #store = new EngineStore();
  readonly #contexts = new ContextKeeper();
  readonly #readingListeners = new Set<ReadingListener>();
  readonly #readingWatch = new ReadingWatch(() => this.#hold('interrupted'));
  #analysis: AnalysisLink | null = null;
  #makeRig: (() => SampleSource) | null = null;
  #session: SourceSession | null = null;
  #starting: Promise<void> = Promise.resolve();
  #rebuilt = false;
  #inGap = false;
  #inJump = false;
  /** Takes that were given up, one still on its way to the analysis among them. */
  #drops = 0;

  readonly subscribe = this.#store.subscribe;
  readonly getState = this.#store.getState;

  /** @returns a function that ends the subscription. Called about 20 times a second; keep it out of React's state. */
  readonly onReading = (listener: ReadingListener): (() => void) => {
    this.#readingListeners.add(listener);
    return () => this.#readingListeners.delete(listener);
  };

  /** The context that capture and player share. Ask anew for each use: it changes with the input's rate. */
  audioContext(): AudioContext {
    return this.#contexts.current();
  }

  /** Called before that context closes. @returns a function that ends the subscription. */
  onContextClosing(listener: () => void): () => void {
    return this.#contexts.onClosing(listener);
  }

  /** Tells how a practice rig is made; the engine itself need not know what a rig is. */
  provideRig(make: () => SampleSource): void {
    this.#makeRig = make;
  }

  /** For the player: what it plays now, or `null`. */
  setPlaying(playing: EngineState['playing']): void {
    this.#store.update({ playing });
  }

  /** For the player: the chosen output, or `null` for the system's own. */
  setOutput(outputId: string | null): void {
    this.#store.update({ outputId });
  }

  /**
   * Opens a source, closing the one before. Call it in a user's gesture. It never
   * rejects: what went wrong stands in `trouble`. Asked twice for the same, it opens one.
   */
  start(choice: SourceChoice): Promise<void> {
    const { phase, trouble } = this.getState();
    const busy = phase === 'asking' || phase === 'warming-up' || phase === 'running';
    if (busy && trouble === null && this.#session !== null && isSameSource(choice, this.#session.choice))
      return this.#starting;
    // A context that would not wake, or lost its worklet, is not worth keeping.
    if (trouble !== null && RENEW_CONTEXT.has(trouble.kind)) this.#contexts.discard();
    this.#rebuilt = false;
    this.#starting = this.#begin(choice);
    return this.#starting;
  }

  /** Readings stand still and a take under way is given up; the input stays open. Only while it runs. */
  pause(): void {
    const { phase } = this.getState();
    if (phase !== 'running' && phase !== 'warming-up') return;
    this.dropTake();
    this.#session?.pause();
    this.#readingWatch.end();
    this.#store.update({ phase: 'paused' });
  }

  /** Measures anew from here: no window spans the pause. */
  resume(): void {
    if (this.getState().phase !== 'paused') return;
    this.#session?.resume();
    this.#readingWatch.begin();
    this.#store.update({ phase: 'warming-up', trouble: null });
  }

  /** Closes the source; a microphone's light goes out. */
  stop(): void {
    this.#close();
    this.#store.update({ phase: 'stopped', trouble: null, granted: null, capturePath: null });
  }

  /** @param expectedHz the tone to look for, or `null` for whatever stands out. Also holds for later sources. */
  configure(change: { band?: Band; expectedHz?: number | null }): void {
    this.#analysisLink().configure(change);
  }

  /**
   * Keeps the next `seconds` of the open source whole, every channel of it; of the practice rig none that was
   * made before what was asked of it last.
   *
   * @throws Error with one sentence where nothing is open, or the source closes meanwhile
   */
  async take(seconds: number): Promise<Take> {
    const { phase } = this.getState();
    const session = this.#session;
    const rateHz = session?.sampleRateHz ?? null;
    if (session === null || rateHz === null || (phase !== 'running' && phase !== 'warming-up')) {
      throw new Error('Nothing is heard: open an input first.');
    }
    const drops = this.#drops;
    try {
      const fromFrame = await session.hold();
      if (session.closed) throw new Error('The input was closed.');
      if (this.#drops !== drops) throw new Error('It was stopped.');
      // Not awaited before the source is let go: it has to be asked for while nothing is made, no more.
      return this.#analysisLink().take(Math.round(seconds * rateHz), fromFrame);
    } finally {
      session.release();
    }
  }

  /** Gives up the take under way. */
  dropTake(): void {
    this.#drops += 1;
    this.#analysisLink().dropTake();
  }

  /** Hands every block of the open source on through `port`, for a recorder, until `endRecord` or its end. */
  record(port: MessagePort): void {
    this.#analysisLink().record(port);
  }

  endRecord(): void {
    this.#analysisLink().endRecord();
  }

  /** Reads the device list. Names stay empty until an input has been opened once. */
  async refreshDevices(): Promise<void> {
    const { devices, outputs } = await listDevices();
    this.#store.update({ devices, outputs });
    const open = this.#session?.deviceId;
    if (open && devices.length > 0 && !devices.some((device) => device.deviceId === open))
      this.#fail(troubleOf('unplugged'));
  }

  async #begin(choice: SourceChoice): Promise<void> {
    this.#close();
    const parts = { contexts: this.#contexts, analysis: this.#analysisLink(), makeRig: this.#makeRig };
    const session = new SourceSession(choice, parts, this.#sessionEvents());
    this.#session = session;
    this.#store.update({ ...NOTHING_OPEN, phase: 'asking', source: choice });
    try {
      await session.open();
    } catch (error) {
      // A session closed meanwhile may fail as it likes: nobody waits for it.
      if (!session.closed) this.#fail(asTrouble(error));
    }
  }

  #sessionEvents(): SessionEvents {
    return {
      onRunning: (change) => {
        this.#store.update({ ...change, phase: 'warming-up' });
        this.#readingWatch.begin();
      },
      onGranted: (granted) => this.#store.update({ granted }),
      onLost: (kind) => this.#fail(troubleOf(kind)),
      onSourceTrouble: (trouble) => this.#sourceFailed(trouble),
      onHeld: (kind) => this.#hold(kind),
      onReleased: () => this.#release(),
      onEnded: () => this.stop(),
      onDevicesChanged: () => void this.refreshDevices(),
    };
  }

  #analysisLink(): AnalysisLink {
    this.#analysis ??= new AnalysisLink(AUDIO_BAND, {
      onReading: (reading) => this.#hear(reading),
      onFailure: (sentence) => this.#fail(troubleOf('worklet-failed', sentence)),
    });
    return this.#analysis;
  }

  #hear(reading: LiveReading): void {
    const { phase, trouble } = this.getState();
    if (phase !== 'warming-up' && phase !== 'running') return;
    this.#readingWatch.heard();
    if (trouble?.kind === 'interrupted') this.#release();
    const warming = reading.doubts.includes('warming-up');
    if (phase === 'warming-up' && !warming) this.#store.update({ phase: 'running' });
    if (!warming) this.#countBreaks(reading.doubts);
    for (const listener of this.#readingListeners) listener(reading);
  }

  /** Windows overlap: one hole, or one jump, is seen by several readings and counted once. */
  #countBreaks(doubts: readonly Doubt[]): void {
    const { gaps, jumps } = this.getState();
    const inGap = doubts.includes('gap');
    const inJump = !inGap && doubts.includes('phase-break');
    // The break that a hole leaves behind outlasts it in the windows that follow.
    if (inJump && !this.#inJump && !this.#inGap) this.#store.update({ jumps: jumps + 1 });
    if (inGap && !this.#inGap) this.#store.update({ gaps: gaps + 1 });
    this.#inGap = inGap;
    this.#inJump = inJump;
  }

  /** A processor that threw is dead for good; one rebuild is worth a try before the user is asked. */
  #sourceFailed(trouble: Trouble): void {
    const choice = this.#session?.choice;
    if (trouble.kind !== 'worklet-failed' || this.#rebuilt || choice === undefined) {
      this.#fail(trouble);
      return;
    }
    this.#rebuilt = true;
    this.#contexts.discard();
    this.#starting = this.#begin(choice);
  }

  /** Samples stand still but may come back by themselves; the source stays open. */
  #hold(kind: Trouble['kind']): void {
    this.#store.update({ trouble: troubleOf(kind) });
  }

  #release(): void {
    const { trouble } = this.getState();
    if (trouble === null || !HELD.has(trouble.kind)) return;
    this.#analysis?.reset();
    this.#store.update({ trouble: null });
  }

  #fail(trouble: Trouble): void {
    this.#close();
    this.#store.update({ phase: 'stopped', trouble });
  }

  #close(): void {
    this.#readingWatch.end();
    this.#session?.close();
    this.#session = null;
    this.#inGap = false;
    this.#inJump = false;
  }
}

const NOTHING_OPEN = { trouble: null, granted: null, capturePath: null, gaps: 0, jumps: 0 } as const;
const HELD: ReadonlySet<Trouble['kind']> = new Set(['suspended', 'interrupted', 'muted-by-system']);
const RENEW_CONTEXT: ReadonlySet<Trouble['kind']> = new Set(['suspended', 'interrupted', 'worklet-failed']);

function asTrouble(error: unknown): Trouble {
  if (error instanceof TroubleError) return error.trouble;
  const message = error instanceof Error ? error.message : String(error);
  return troubleOf('worklet-failed', `Sound could not be started: ${message}.`);
}

/** One for the whole page: React may mount and unmount as it likes. */
export const soundEngine = new SoundEngine();
