/** Moments kept of each block: 0 to 3. The fourth would change a sum by `(offset * block/2)^4 / 120`. */
const MOMENTS = 4;

/** Doubles for each block: real and imaginary part of every moment. */
const STRIDE = 2 * MOMENTS;

/** What a stretch of samples holds at one frequency, about the stretch's own centre frame. */
export interface LineSums {
  frames: number;
  /** Where `u` = 0, in frames from the start of the record; half a frame where the count is even. */
  centreFrame: number;
  /** `sum of x exp(-j w u)`. */
  re: number;
  im: number;
  /** `sum of u x exp(-j w u)`. */
  slopeRe: number;
  slopeIm: number;
}

/**
 * A record demodulated at a frequency near the tone's, block by block, in constant memory.
 *
 * Of each block the moments of `x exp(-j w0 u)` about the block's centre are kept. From them the sums
 * at any frequency `w` near `w0` follow by a short series, over any run of blocks, so that the
 * least-squares fit may move the frequency and the ends after the samples are gone. When the table is
 * full, neighbours are joined and blocks from then on are twice as long.
 */
export class ToneBlocks {
  /** Frames in every block; the last holds up to twice as many once `close` was called. */
  blockFrames = 0;
  count = 0;
  /** Frames pushed since `begin`. */
  frames = 0;
  #angularFrequency = 0;
  #filled = 0;
  readonly #table: Float64Array;
  readonly #capacity: number;
  readonly #open = new Float64Array(STRIDE);

  /** @param capacity how many blocks are held at most; even, since they are joined in pairs */
  constructor(capacity: number) {
    this.#capacity = capacity;
    this.#table = new Float64Array(capacity * STRIDE);
  }

  /** @param angularFrequency radians per frame, within a small part of 1/blockFrames of the tone's */
  begin(angularFrequency: number, blockFrames: number): void {
    this.#angularFrequency = angularFrequency;
    this.blockFrames = blockFrames;
    this.count = 0;
    this.frames = 0;
    this.#filled = 0;
    this.#open.fill(0);
  }

  push(samples: Float32Array | Float64Array, from: number, to: number): void {
    let start = from;
    while (start < to) {
      const end = Math.min(to, start + this.blockFrames - this.#filled);
      this.#accumulate(samples, start, end);
      this.#filled += end - start;
      this.frames += end - start;
      start = end;
      if (this.#filled === this.blockFrames) this.#closeBlock();
    }
  }

  /** Ends the record: what is left goes to the last block, since a part of a cycle says little by itself. */
  close(): void {
    if (this.#filled === 0) return;
    if (this.count === 0) {
      this.#closeBlock();
      return;
    }
    const last = this.#table.subarray((this.count - 1) * STRIDE, this.count * STRIDE);
    addShifted(this.#open, { shift: 2, scale: 1, turn: -this.#angularFrequency * this.blockFrames }, last);
    this.#filled = 0;
  }

  /** First frame of a block; `frameOf(count)` is the end of the last whole block, after `close` that of the record. */
  frameOf(block: number): number {
    return block < this.count ? block * this.blockFrames : this.frames - this.#filled;
  }

  /** Sums at `angularFrequency` over blocks `first` to `last`, the latter not included. */
  sums(angularFrequency: number, first: number, last: number, into: LineSums): LineSums {
    const startFrame = this.frameOf(first);
    into.frames = this.frameOf(last) - startFrame;
    into.centreFrame = startFrame + (into.frames - 1) / 2;
    into.re = into.im = into.slopeRe = into.slopeIm = 0;
    const half = this.blockFrames / 2;
    const k = (angularFrequency - this.#angularFrequency) * half;
    for (let block = first; block < last; block += 1) {
      const m = block * STRIDE;
      const t = this.#table;
      const r0 = t[m]!;
      const i0 = t[m + 1]!;
      const r1 = t[m + 2]!;
      const i1 = t[m + 3]!;
      const r2 = t[m + 4]!;
      const i2 = t[m + 5]!;
      const r3 = t[m + 6]!;
      const i3 = t[m + 7]!;
      // exp(-j k v) = 1 - j k v - k^2 v^2 / 2 + j k^3 v^3 / 6
      const re = r0 + k * i1 - ((k * k) / 2) * r2 - ((k * k * k) / 6) * i3;
      const im = i0 - k * r1 - ((k * k) / 2) * i2 + ((k * k * k) / 6) * r3;
      const vRe = r1 + k * i2 - ((k * k) / 2) * r3;
      const vIm = i1 - k * r2 - ((k * k) / 2) * i3;
      const away = block * this.blockFrames + (this.blockFrames - 1) / 2 - into.centreFrame;
      const cosine = Math.cos(angularFrequency * away);
      const sine = Math.sin(angularFrequency * away);
      into.re += re * cosine + im * sine;
      into.im += im * cosine - re * sine;
      const uRe = away * re + half * vRe;
      const uIm = away * im + half * vIm;
      into.slopeRe += uRe * cosine + uIm * sine;
      into.slopeIm += uIm * cosine - uRe * sine;
    }
    return into;
  }

  #accumulate(samples: Float32Array | Float64Array, from: number, to: number): void {
    const w = this.#angularFrequency;
    const middle = (this.blockFrames - 1) / 2;
    const perFrame = 2 / this.blockFrames;
    const u = this.#filled - middle;
    let cosine = Math.cos(w * u);
    let sine = Math.sin(w * u);
    const stepCosine = Math.cos(w);
    const stepSine = Math.sin(w);
    const open = this.#open;
    let r0 = open[0]!;
    let i0 = open[1]!;
    let r1 = open[2]!;
    let i1 = open[3]!;
    let r2 = open[4]!;
    let i2 = open[5]!;
    let r3 = open[6]!;
    let i3 = open[7]!;
    for (let n = from; n < to; n += 1) {
      const x = samples[n]!;
      const v = (u + (n - from)) * perFrame;
      const re = x * cosine;
      const im = -x * sine;
      const vRe = v * re;
      const vIm = v * im;
      const vvRe = v * vRe;
      const vvIm = v * vIm;
      r0 += re;
      i0 += im;
      r1 += vRe;
      i1 += vIm;
      r2 += vvRe;
      i2 += vvIm;
      r3 += v * vvRe;
      i3 += v * vvIm;
      const turned = cosine * stepCosine - sine * stepSine;
      sine = sine * stepCosine + cosine * stepSine;
      cosine = turned;
    }
    open[0] = r0;
    open[1] = i0;
    open[2] = r1;
    open[3] = i1;
    open[4] = r2;
    open[5] = i2;
    open[6] = r3;
    open[7] = i3;
  }

  #closeBlock(): void {
    this.#table.set(this.#open, this.count * STRIDE);
    this.count += 1;
    this.#filled = 0;
    this.#open.fill(0);
    if (this.count === this.#capacity) this.#joinPairs();
  }

  #joinPairs(): void {
    const turn = (this.#angularFrequency * this.blockFrames) / 2;
    const joined = new Float64Array(STRIDE);
    const block = (index: number) => this.#table.subarray(index * STRIDE, (index + 1) * STRIDE);
    for (let pair = 0; pair < this.#capacity / 2; pair += 1) {
      joined.fill(0);
      addShifted(block(2 * pair), { shift: -1, scale: 0.5, turn }, joined);
      addShifted(block(2 * pair + 1), { shift: 1, scale: 0.5, turn: -turn }, joined);
      this.#table.set(joined, pair * STRIDE);
    }
    this.count = this.#capacity / 2;
    this.blockFrames *= 2;
  }
}

/** Pascal's triangle, as far as the moments go. */
const BINOMIALS = [[1], [1, 1], [1, 2, 1], [1, 3, 3, 1]] as const;

/** Adds moments as another centre and length see them: `v` becomes `(v + shift) scale`, and the phase turns. */
function addShifted(
  moments: Float64Array,
  move: { shift: number; scale: number; turn: number },
  into: Float64Array,
): void {
  const cosine = Math.cos(move.turn);
  const sine = Math.sin(move.turn);
  for (let m = 0; m < MOMENTS; m += 1) {
    let re = 0;
    let im = 0;
    for (let k = 0; k <= m; k += 1) {
      const factor = BINOMIALS[m]![k]! * move.shift ** (m - k) * move.scale ** m;
      re += factor * moments[2 * k]!;
      im += factor * moments[2 * k + 1]!;
    }
    into[2 * m] = into[2 * m]! + re * cosine - im * sine;
    into[2 * m + 1] = into[2 * m + 1]! + im * cosine + re * sine;
  }
}

export function emptyLineSums(): LineSums {
  return { frames: 0, centreFrame: 0, re: 0, im: 0, slopeRe: 0, slopeIm: 0 };
}
