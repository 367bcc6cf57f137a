/** What some browsers offer beyond TypeScript's library. */
interface SinkContext extends AudioContext {
  readonly sinkId: string | { type: string };
  setSinkId(sinkId: string): Promise<void>;
}

/** Whether a page may choose the output in this browser. */
export function canChooseOutput(): boolean {
  return typeof AudioContext === 'function' && 'setSinkId' in AudioContext.prototype;
}

/**
 * Sends the context's sound to this output, or to the system's own choice for `null`.
 *
 * @throws Error with one sentence where the browser offers no choice, or refuses this one
 */
export async function chooseOutput(context: BaseAudioContext, outputId: string | null): Promise<void> {
  const wanted = outputId ?? '';
  if (!('setSinkId' in context)) {
    if (wanted === '') return;
    throw new Error('This browser does not let a page choose the output: choose it in the system instead.');
  }
  const sink = context as SinkContext;
  if (sink.sinkId === wanted) return;
  try {
    await sink.setSinkId(wanted);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new Error(`The chosen output cannot be used (${reason}): choose another one.`);
  }
}
