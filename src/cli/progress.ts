const SHOW_AFTER_MS = 1_000;
const EVERY_MS = 200;
const BAR_LENGTH = 24;

/**
 * How far a long piece of work has come, on standard error, and only where a
 * person sits at it: nothing in the first second, nothing into a pipe.
 */
export class Progress {
  readonly #what: string;
  readonly #total: number;
  readonly #startedAt = performance.now();
  #done = 0;
  #shownAt = 0;

  constructor(what: string, total: number) {
    this.#what = what;
    this.#total = total;
  }

  add(amount: number): void {
    this.#done += amount;
    const now = performance.now();
    if (!process.stderr.isTTY || now - this.#startedAt < SHOW_AFTER_MS || now - this.#shownAt < EVERY_MS)
      return;
    this.#shownAt = now;
    process.stderr.write(`\r${this.#what}: ${bar(this.#done / this.#total)}`);
  }

  /** Wipes the line, so that what follows stands alone. */
  end(): void {
    if (this.#shownAt > 0) process.stderr.write('\r\u001b[K');
  }
}

/** @param share 0 to 1 */
function bar(share: number): string {
  const filled = '#'.repeat(Math.floor(BAR_LENGTH * share)).padEnd(BAR_LENGTH);
  return `[${filled}] ${String(Math.floor(100 * share)).padStart(3)} %`;
}
