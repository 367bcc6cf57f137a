/** Placements of an acoustic calibrator on the microphone: taken one after another, until they are kept. */
import { soundEngine } from '../../audio/engine/sound-engine.ts';
import type { PlacementLevel, SoundCalibrator } from '../../plan/calibration/sound-scale.ts';
import { halvesOf, placementLevel, whyNotTogether } from '../../procedure/calibrator/placement.ts';
import type { TakeRequest } from '../../procedure/take/read-take.ts';
import type { ToneTakeRequest } from '../../procedure/take/tone-take.ts';
import { readTakeAside } from '../takes/take-reader.ts';
import { inputChannel } from './input-channel.ts';
import { inputIdentity } from './input-identity.ts';
import type { Busy } from './station-session.ts';

class CalibratorSession {
  readonly #listeners = new Set<() => void>();
  #busy: Busy = null;
  #fault: string | null = null;
  #levels: readonly PlacementLevel[] = [];

  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  readonly busy = (): Busy => this.#busy;
  /** Why the last placement does not count, one sentence. */
  readonly fault = (): string | null => this.#fault;
  /** The same list until a placement is added. */
  readonly levels = (): readonly PlacementLevel[] => this.#levels;

  /** @param purpose the calibrator that is on the microphone */
  async take(purpose: unknown, request: TakeRequest, seconds: number): Promise<boolean> {
    if (this.#busy !== null) return false;
    this.#fault = null;
    try {
      this.#show({ what: 'recording', seconds, sinceMs: performance.now() });
      const [first, second] = halvesOf(await soundEngine.take(seconds));
      this.#show({ what: 'reading' });
      const tone = request as ToneTakeRequest;
      const halves = [await readTakeAside(tone, first), await readTakeAside(tone, second)] as const;
      this.#fault = this.#judge(placementLevel(halves, purpose as SoundCalibrator));
      return this.#fault === null;
    } catch (error) {
      this.#fault = error instanceof Error ? error.message : String(error);
      return false;
    } finally {
      this.#show(null);
    }
  }

  /** Forgets what was taken; another calibrator, or another microphone. */
  clear(): void {
    if (this.#busy?.what === 'recording') soundEngine.dropTake();
    this.#levels = [];
    this.#fault = null;
    this.#show(this.#busy);
  }

  #judge(level: PlacementLevel | string): string | null {
    if (typeof level === 'string') return level;
    const levels = [...this.#levels, level];
    const why = whyNotTogether(levels);
    if (why === null) this.#levels = levels;
    return why;
  }

  #show(busy: Busy): void {
    this.#busy = busy;
    for (const listener of this.#listeners) listener();
  }
}

export const calibratorSession = new CalibratorSession();

/** Placements belong to one input; another one's are none of this. */
let placedOn = '';
function clearOnAnother(): void {
  const device = inputIdentity(soundEngine.getState());
  if (device === null) return;
  const here = `${device.label} ${inputChannel.get()}`;
  if (here !== placedOn) calibratorSession.clear();
  placedOn = here;
}
soundEngine.subscribe(clearOnAnother);
inputChannel.subscribe(clearOnAnother);
