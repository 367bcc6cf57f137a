/** Owns the one AudioContext that capture and player share. */

type Closing = () => void;

export class ContextKeeper {
  #context: AudioContext | null = null;
  readonly #closing = new Set<Closing>();

  /** The context in use, or a new one at the output's own rate. Make the first in a user's gesture. */
  current(): AudioContext {
    if (this.#context === null || this.#context.state === 'closed') this.#context = new AudioContext();
    return this.#context;
  }

  /**
   * A context at the given rate, or at the output's own where `rateHz` is `null`
   * or refused. A context at another rate is closed: a bridge between rates
   * bends the treble by decibels (platform notes, finding 2).
   */
  at(rateHz: number | null): AudioContext {
    const context = this.current();
    if (rateHz === null || context.sampleRate === rateHz) return context;
    let matching: AudioContext;
    try {
      matching = new AudioContext({ sampleRate: rateHz });
    } catch (error) {
      if (error instanceof DOMException && error.name === 'NotSupportedError') return context;
      throw error;
    }
    this.discard();
    this.#context = matching;
    return matching;
  }

  /** The output's own rate, whatever was in use: for browsers that refuse to bridge rates at all. */
  atOutputRate(): AudioContext {
    this.discard();
    return this.current();
  }

  /** Closes the context; the next call makes a new one. */
  discard(): void {
    const context = this.#context;
    this.#context = null;
    if (context === null || context.state === 'closed') return;
    for (const listener of this.#closing) listener();
    void context.close();
  }

  /** Called before the context closes, so that a player can stop. */
  onClosing(listener: Closing): () => void {
    this.#closing.add(listener);
    return () => this.#closing.delete(listener);
  }
}
