/** A gate over an impulse response: raised-cosine sides, flat in between (so that a decay is kept as it is). */
export interface Gate {
  /** Frames of it ahead of the arrival. */
  before: number;
  /** Frames of it from the arrival on. */
  after: number;
}

/** Shares of the two parts that rise and fall. */
const RISE_SHARE = 0.5;
const FALL_SHARE = 0.5;

/** Value of the gate `frame` frames after the arrival, 0 outside. */
function gateAt(gate: Gate, frame: number): number {
  if (frame < 0) return side((frame + gate.before) / (gate.before * RISE_SHARE));
  return side((gate.after - frame) / (gate.after * FALL_SHARE));
}

function side(reached: number): number {
  if (reached <= 0) return 0;
  return reached >= 1 ? 1 : 0.5 - 0.5 * Math.cos(Math.PI * reached);
}

/**
 * Copies the gated response into `into`, its arrival to sample 0 and what is ahead of it to the end, so that the
 * phase is counted from the arrival.
 *
 * @param response circular
 */
export function gated(response: Float64Array, arrival: number, gate: Gate, into: Float64Array): void {
  into.fill(0);
  for (let frame = 1 - gate.before; frame < gate.after; frame += 1) {
    const from = (((arrival + frame) % response.length) + response.length) % response.length;
    const to = (frame + into.length) % into.length;
    into[to] = response[from]! * gateAt(gate, frame);
  }
}
