/**
 * Plays one tone at a time through the chosen output: risen over 200 ms, never
 * past full scale, never longer than its limit, and silent as soon as the
 * route changes. Lives outside React; the screen subscribes.
 */
import { chooseOutput } from './output-choice.ts';
import type { EndedBecause, PlayerState, Playing, PlayRequest } from './player-state.ts';
import {
  BURST_LIMIT_SECONDS,
  BurstRest,
  checkLevelAllowed,
  checkSummedPeak,
  HIGHEST_LEVEL_DBFS,
  heatingDbfs,
  LOUD_LIMIT_SECONDS,
  limitSeconds,
  loudestDbfs,
  type Voice,
} from './protection.ts';
import { type ToneBuffer, toneBuffer } from './tone-buffer.ts';
import { VoiceNodes } from './voice-nodes.ts';

export interface PlayerOptions {
  /** The engine's context; asked for at each tone, since it may have been replaced. Call `play` in a user's gesture. */
  context: () => Promise<BaseAudioContext>;
  /** A tone above it must be confirmed. */
  highestLevelDbfs?: number;
  /** Longest time for a loud tone (`LOUD_FROM_DBFS` and up), seconds. */
  loudLimitSeconds?: number;
}

/** A fade is over by then even if the context's clock has stopped and nothing says so. */
const GRACE_MS = 150;

interface Sounding {
  context: BaseAudioContext;
  nodes: VoiceNodes;
  voice: Voice;
  /** What a natural end will mean. */
  atEnd: EndedBecause;
  ended: Promise<void>;
  end: (because: EndedBecause) => void;
  isFading: boolean;
}

export class Player {
  readonly #options: PlayerOptions;
  readonly #listeners = new Set<() => void>();
  #state: PlayerState = { phase: 'silent', playing: null, ended: null, outputId: null };
  #sounding: Sounding | null = null;
  /** Counts wishes: a newer `play` or `stop` outdates one that still waits. */
  #wish = 0;
  readonly #watched = new WeakSet<EventTarget>();
  readonly #burstRest = new BurstRest();

  constructor(options: PlayerOptions) {
    this.#options = options;
  }

  /** Bound, so that `useSyncExternalStore` may take it as it is. */
  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  readonly getState = (): PlayerState => this.#state;

  /**
   * Fades out what sounds, then starts this tone. Resolves once it is under way;
   * with `null` if a newer wish came in between.
   *
   * @throws RangeError for a tone that is too loud, would clip, or cannot be rendered, and for a burst too soon after another
   * @throws Error where the context does not run or the output cannot be used
   */
  async play(request: PlayRequest): Promise<Playing | null> {
    const { highestLevelDbfs = HIGHEST_LEVEL_DBFS } = this.#options;
    checkLevelAllowed(loudestDbfs(request.spec), highestLevelDbfs, request.loudConfirmed ?? false);
    this.#wish += 1;
    const wish = this.#wish;
    await this.#silence('another-tone');
    this.#update({ phase: 'starting' });
    try {
      const context = await this.#readyContext();
      if (wish !== this.#wish) return null;
      const tone = toneBuffer(context, request.spec, request.channels);
      return this.#begin(context, tone, request);
    } finally {
      if (wish === this.#wish && this.#sounding === null) this.#update({ phase: 'silent' });
    }
  }

  /** Fades out over 20 ms. Resolves when it is silent; at once if it is. */
  async stop(): Promise<void> {
    this.#wish += 1;
    await this.#silence('asked');
    if (this.#sounding === null) this.#update({ phase: 'silent' });
  }

  /**
   * Stops, then plays through this output from now on; `null` for the system's own choice.
   *
   * @throws Error with one sentence where it cannot be used; the choice before stays
   */
  async setOutput(outputId: string | null): Promise<void> {
    await this.stop();
    await chooseOutput(await this.#options.context(), outputId);
    this.#update({ outputId });
  }

  async #readyContext(): Promise<BaseAudioContext> {
    const context = await this.#options.context();
    await chooseOutput(context, this.#state.outputId);
    if (!(context instanceof AudioContext)) return context;
    if (context.state !== 'running') await context.resume();
    return context;
  }

  #begin(context: BaseAudioContext, tone: ToneBuffer, request: PlayRequest): Playing {
    const voice: Voice = { peak: tone.peak, channels: request.channels };
    checkSummedPeak(this.#sounding === null ? [voice] : [this.#sounding.voice, voice]);
    const levelDbfs = loudestDbfs(request.spec);
    const { loudLimitSeconds = LOUD_LIMIT_SECONDS } = this.#options;
    const usual = request.limitSeconds ?? limitSeconds(heatingDbfs(request.spec), loudLimitSeconds);
    const limit = request.burst ? Math.min(usual, BURST_LIMIT_SECONDS) : usual;
    const lastsSeconds = Math.min(tone.seconds, limit);
    const atEnd: EndedBecause = tone.seconds <= limit ? 'finished' : 'time-limit';
    const { description, channels } = request;
    const playing: Playing = { description, levelDbfs, channels, actualHz: tone.actualHz, lastsSeconds };
    if (request.burst) this.#burstRest.begin(performance.now() / 1000);
    this.#sound(context, tone, lastsSeconds, voice, atEnd);
    this.#watch(context);
    this.#update({ phase: 'playing', playing });
    return playing;
  }

  #sound(
    context: BaseAudioContext,
    tone: ToneBuffer,
    lastsSeconds: number,
    voice: Voice,
    atEnd: EndedBecause,
  ): void {
    const { promise, resolve } = withResolvers();
    const end = (because: EndedBecause) => {
      this.#burstRest.end(performance.now() / 1000);
      if (this.#sounding === sounding) {
        this.#sounding = null;
        this.#update({ phase: 'silent', playing: null, ended: because });
      }
      resolve();
    };
    const nodes = new VoiceNodes(context, tone, lastsSeconds, () => end(sounding.atEnd));
    const sounding: Sounding = { context, nodes, voice, atEnd, ended: promise, end, isFading: false };
    this.#sounding = sounding;
  }

  async #silence(because: EndedBecause): Promise<void> {
    const sounding = this.#sounding;
    if (sounding === null) return;
    // A second wish does not change why the first one was made, nor begin the fade anew.
    if (sounding.isFading) return sounding.ended;
    sounding.isFading = true;
    sounding.atEnd = because;
    this.#update({ phase: 'stopping' });
    const seconds = sounding.nodes.fadeOut();
    const late = setTimeout(() => this.#cut(sounding, because), 1000 * seconds + GRACE_MS);
    await sounding.ended;
    clearTimeout(late);
  }

  #cut(sounding: Sounding, because: EndedBecause): void {
    sounding.nodes.cut();
    sounding.end(because);
  }

  #watch(context: BaseAudioContext): void {
    if (context instanceof AudioContext && !this.#watched.has(context)) {
      this.#watched.add(context);
      context.addEventListener('statechange', () => {
        if (context.state === 'running' || this.#sounding?.context !== context) return;
        // A clock that stands still would let the tone burst out again when it goes on.
        this.#cut(this.#sounding, 'interrupted');
      });
    }
    // Without a secure context there is no list of devices, and no word of a change.
    const { mediaDevices } = navigator;
    if (!mediaDevices || this.#watched.has(mediaDevices)) return;
    this.#watched.add(mediaDevices);
    mediaDevices.addEventListener('devicechange', () => {
      this.#wish += 1;
      void this.#silence('devices-changed');
    });
  }

  #update(change: Partial<PlayerState>): void {
    const keys = Object.keys(change) as (keyof PlayerState)[];
    if (keys.every((key) => Object.is(this.#state[key], change[key]))) return;
    this.#state = { ...this.#state, ...change };
    for (const listener of [...this.#listeners]) listener();
  }
}

function withResolvers(): { promise: Promise<void>; resolve: () => void } {
  let resolve = () => {};
  const promise = new Promise<void>((settle) => {
    resolve = settle;
  });
  return { promise, resolve };
}

export function createPlayer(options: PlayerOptions): Player {
  return new Player(options);
}
