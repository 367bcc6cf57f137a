/** What went in, on any scale that is known in steps, and the fundamental that came out. */
export interface CompressionStep {
  inputDb: number;
  outputDb: number;
  /** Standard uncertainty of `outputDb`; 0 where left out. */
  uncertaintyDb?: number;
}

export interface Compression {
  inputDb: number;
  /** By how much the output has fallen behind the input since the lowest step, dB; negative for an expansion. */
  compressionDb: number;
  uncertaintyDb: number;
}

/**
 * Gain compression from steps of known size: how far each output lags behind the lowest step's gain.
 *
 * The lowest step is taken for linear, so what it has lost already is missing from every figure. Where the
 * wave shows a limit, `Clipping.compressionDb` tells the same from one reading.
 *
 * @returns from the lowest input up, one for each step with both figures; empty with fewer than two
 */
export function gainCompression(steps: readonly CompressionStep[]): Compression[] {
  const known = steps
    .filter((step) => Number.isFinite(step.inputDb) && Number.isFinite(step.outputDb))
    .sort((a, b) => a.inputDb - b.inputDb);
  const [lowest] = known;
  if (lowest === undefined || known.length < 2) return [];
  return known.map((step) => ({
    inputDb: step.inputDb,
    compressionDb: step.inputDb - lowest.inputDb - (step.outputDb - lowest.outputDb),
    uncertaintyDb: step === lowest ? 0 : Math.hypot(step.uncertaintyDb ?? 0, lowest.uncertaintyDb ?? 0),
  }));
}

/**
 * Input at which compression passes `compressionDb` (1 dB is the customary point), by interpolation between
 * neighbouring steps; `null` where no step reaches it.
 */
export function compressionPoint(steps: readonly CompressionStep[], compressionDb: number): number | null {
  const curve = gainCompression(steps);
  for (let at = 1; at < curve.length; at++) {
    const [under, over] = [curve[at - 1]!, curve[at]!];
    if (!(under.compressionDb < compressionDb && over.compressionDb >= compressionDb)) continue;
    const share = (compressionDb - under.compressionDb) / (over.compressionDb - under.compressionDb);
    return under.inputDb + share * (over.inputDb - under.inputDb);
  }
  return null;
}
