import type { GainReading, TracePoint } from './gain.ts';

/** Most dots a trace holds, so that a state stays small enough to store and to draw. */
const TRACE_LIMIT = 400;

/** Dots within this of the knee (or of the highest level, while no knee is known) are spared as long as possible. */
const NEAR_KNEE_DB = 1.5;
const NARROWER_NEAR_KNEE = 16;

/** A resting control adds no new dot until the reading leaves this neighbourhood. */
const SAME_LEVEL_DB = 0.02;
const SAME_THD_RATIO = 1.02;

/** The dot of a reading that is already known to be of the right tone; `null` where there is no distortion figure. */
export function tracePoint(reading: GainReading, turn: number, volts: number | null): TracePoint | null {
  if (reading.levelDbfs === null || reading.thdPercent === null || !Number.isFinite(reading.thdPercent)) {
    return null;
  }
  return {
    turn,
    volts,
    levelDbfs: reading.levelDbfs,
    thdPercent: reading.thdPercent,
    verdict: reading.clipping.verdict,
    ...(reading.highOrderPercent == null ? {} : { highOrderPercent: reading.highOrderPercent }),
    ...(reading.clipping.shape == null ? {} : { shape: reading.clipping.shape }),
  };
}

function isRepeat(a: TracePoint, b: TracePoint): boolean {
  const high = Math.max(a.thdPercent, b.thdPercent);
  const low = Math.min(a.thdPercent, b.thdPercent);
  return (
    a.turn === b.turn &&
    a.verdict === b.verdict &&
    Math.abs(a.levelDbfs - b.levelDbfs) < SAME_LEVEL_DB &&
    high <= low * SAME_THD_RATIO
  );
}

/** The trace with one more dot, thinned where it would grow past `TRACE_LIMIT`. Never changes its argument. */
export function withPoint(trace: TracePoint[], point: TracePoint, kneeDbfs: number | null): TracePoint[] {
  const last = trace.at(-1);
  if (last !== undefined && isRepeat(last, point)) return trace;
  const longer = [...trace, point];
  return longer.length <= TRACE_LIMIT ? longer : thinned(longer, point.turn, kneeDbfs);
}

/**
 * Drops dots where they lie closest together, until a quarter of the room is free. Of each cell of level
 * the dots of least and most distortion stay; near the knee of the running turn the cells are so narrow that
 * practically every dot stays. The lowest and the highest level of each turn always stay.
 */
function thinned(trace: TracePoint[], turn: number, kneeDbfs: number | null): TracePoint[] {
  const roomy = Math.floor(TRACE_LIMIT * 0.75);
  const centre = kneeDbfs ?? highestLevel(trace, turn);
  let kept = trace;
  for (let cellDb = 0.05; kept.length > roomy && cellDb < 100; cellDb *= 2) {
    kept = keepByCell(kept, (point) => {
      const nearKnee = point.turn === turn && Math.abs(point.levelDbfs - centre) <= NEAR_KNEE_DB;
      return nearKnee ? cellDb / NARROWER_NEAR_KNEE : cellDb;
    });
  }
  return kept;
}

function highestLevel(trace: TracePoint[], turn: number): number {
  return trace.reduce((top, p) => (p.turn === turn ? Math.max(top, p.levelDbfs) : top), -Infinity);
}

function keepByCell(trace: TracePoint[], cellDbAt: (point: TracePoint) => number): TracePoint[] {
  const least = new Map<string, TracePoint>();
  const most = new Map<string, TracePoint>();
  const lowest = new Map<number, TracePoint>();
  const highest = new Map<number, TracePoint>();
  for (const point of trace) {
    const cellDb = cellDbAt(point);
    const cell = `${point.turn}/${cellDb}/${Math.floor(point.levelDbfs / cellDb)}`;
    if (point.thdPercent < (least.get(cell)?.thdPercent ?? Infinity)) least.set(cell, point);
    if (point.thdPercent > (most.get(cell)?.thdPercent ?? -Infinity)) most.set(cell, point);
    if (point.levelDbfs < (lowest.get(point.turn)?.levelDbfs ?? Infinity)) lowest.set(point.turn, point);
    if (point.levelDbfs > (highest.get(point.turn)?.levelDbfs ?? -Infinity)) highest.set(point.turn, point);
  }
  const keep = new Set<TracePoint>();
  for (const chosen of [least, most, lowest, highest]) {
    for (const point of chosen.values()) keep.add(point);
  }
  return trace.filter((point) => keep.has(point));
}
