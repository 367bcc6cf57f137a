/** Notices that readings have stopped coming although nothing reported an end. */

const TICK_MS = 1000;
/** The longest window takes 0.8 s to fill, a slow machine doubles it. */
const SILENT_TICKS = 4;

export class ReadingWatch {
  readonly #onSilence: () => void;
  #timer: ReturnType<typeof setInterval> | null = null;
  #ticks = 0;

  constructor(onSilence: () => void) {
    this.#onSilence = onSilence;
  }

  begin(): void {
    this.end();
    this.#ticks = 0;
    this.#timer = setInterval(() => {
      this.#ticks++;
      if (this.#ticks === SILENT_TICKS) this.#onSilence();
    }, TICK_MS);
  }

  heard(): void {
    this.#ticks = 0;
  }

  end(): void {
    if (this.#timer !== null) clearInterval(this.#timer);
    this.#timer = null;
  }
}
