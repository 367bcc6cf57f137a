import { MARKER_HIGH_HZ, MARKER_SECONDS, type MarkerEnd } from '../tones/marker.ts';
import { highestPlace } from './golden-section.ts';
import { MarkerCorrelator } from './marker-correlator.ts';
import { markerBand } from './marker-template.ts';
import { SincInterpolator } from './sinc-interpolator.ts';

/**
 * Least likeness that counts, over the whole band. The two markers resemble each other, and themselves displaced,
 * by at most 0.11; a sound must agree with the waveform of a marker for 23 ms, longer than the shortest
 * glide, to reach 0.3. That, not noise, sets it: see `FALSE_ALARM_EXPONENT`.
 */
const LEAST_LIKENESS = 0.3;

/**
 * In Gaussian noise of any spectrum a likeness `r` is exceeded with the chance `exp(-B T r^2)` at each of the
 * `2 B` independent places of a second. At least this exponent is asked for: false alarms are rarer than
 * `2 * 5400 * 3600 * exp(-50)` = 8e-15 per hour.
 */
const FALSE_ALARM_EXPONENT = 50;

/** Below this too little of the band is left. */
const LEAST_HIGH_HZ = 600;

const ENDS: readonly MarkerEnd[] = ['start', 'end'];

export interface MarkerFinding {
  end: MarkerEnd;
  /**
   * Where the middle of the marker is, `MARKER_SECONDS / 2` behind its start by the player's clock, in frames of the
   * recording, any fraction. The middle, because a clock's skew stretches the marker about it.
   */
  middleFrame: number;
  /** Standard uncertainty of `middleFrame` from noise. */
  frameUncertainty: number;
  /** 1 where nothing but the marker is heard; about the square root of its share of the power. */
  likeness: number;
}

/**
 * Finds the markers in a recording of any length, pushed in pieces: constant memory, nothing allocated but the
 * findings. Needs no level, tells the markers apart, and does not mind inverted polarity, a limited band or
 * clocks that differ by several hundred ppm.
 *
 * Non-finite samples count as silence. A silent recording has no findings.
 */
export class MarkerFinder {
  readonly #sampleRateHz: number;
  readonly #correlator: MarkerCorrelator;
  readonly #block: Float64Array;
  readonly #sinc = new SincInterpolator(16);
  readonly #real: Float64Array;
  readonly #imaginary: Float64Array;
  readonly #findings: MarkerFinding[] = [];
  #filled: number;
  /** Frame of the recording at the block's start. */
  #blockStart: number;
  #received = 0;
  readonly #bandHz: number;
  readonly #leastLikeness: number;

  /**
   * @param highestHz looks at no more than the markers' band below it: about 900 Hz finds what is left of them behind
   * a subwoofer's low-pass filter. At least 600, so that the band still tells a marker from noise.
   */
  constructor(sampleRateHz: number, highestHz = MARKER_HIGH_HZ) {
    if (!(highestHz >= LEAST_HIGH_HZ)) {
      throw new RangeError(
        `A marker cannot be told from noise below ${highestHz} Hz: at least ${LEAST_HIGH_HZ} Hz.`,
      );
    }
    this.#sampleRateHz = sampleRateHz;
    this.#correlator = new MarkerCorrelator(sampleRateHz, highestHz);
    const { lowHz, highHz } = markerBand(sampleRateHz, highestHz);
    this.#bandHz = highHz - lowHz;
    this.#leastLikeness = Math.max(
      LEAST_LIKENESS,
      Math.sqrt(FALSE_ALARM_EXPONENT / (this.#bandHz * MARKER_SECONDS)),
    );
    this.#block = new Float64Array(this.#correlator.blockFrames);
    // The first block begins ahead of the recording, so that a marker whose beginning is missing is still found.
    this.#filled = this.#correlator.firstFrame + Math.ceil(MARKER_SECONDS * sampleRateHz);
    this.#blockStart = -this.#filled;
    const places = this.#correlator.blockFrames / this.#correlator.framesPerPlace;
    this.#real = new Float64Array(places);
    this.#imaginary = new Float64Array(places);
  }

  push(samples: ArrayLike<number>, frames: number): void {
    this.#received += frames;
    for (let frame = 0; frame < frames; frame += 1) {
      const sample = samples[frame]!;
      this.#block[this.#filled] = Number.isFinite(sample) ? sample : 0;
      this.#filled += 1;
      if (this.#filled === this.#block.length) this.#search();
    }
  }

  /** Searches what is left, and returns the findings in the order of time. To be called once, at the end. */
  finish(): readonly MarkerFinding[] {
    while (this.#blockStart + this.#correlator.firstFrame < this.#received) {
      this.#block.fill(0, this.#filled);
      this.#search();
    }
    return this.#findings.sort((a, b) => a.middleFrame - b.middleFrame);
  }

  #search(): void {
    const { firstFrame, endFrame, framesPerPlace } = this.#correlator;
    if (this.#correlator.correlate(this.#block)) {
      for (const end of ENDS) {
        this.#searchFor(end, Math.floor(firstFrame / framesPerPlace), Math.ceil(endFrame / framesPerPlace));
      }
    }
    const hop = endFrame - firstFrame;
    this.#block.copyWithin(0, hop);
    this.#filled = this.#block.length - hop;
    this.#blockStart += hop;
  }

  #searchFor(end: MarkerEnd, firstPlace: number, endPlace: number): void {
    const markerPlaces = (MARKER_SECONDS * this.#sampleRateHz) / this.#correlator.framesPerPlace;
    let bestPlace = -1;
    let best = this.#leastLikeness;
    for (let place = firstPlace; place < endPlace; place += 1) {
      const likeness = this.#correlator.likeness(end, place);
      if (likeness > best) {
        best = likeness;
        bestPlace = place;
      }
      const ended = place - bestPlace > markerPlaces || place === endPlace - 1;
      if (bestPlace >= 0 && ended) {
        this.#keep(this.#refined(end, bestPlace, best));
        best = this.#leastLikeness;
        bestPlace = -1;
      }
    }
  }

  #refined(end: MarkerEnd, place: number, likeness: number): MarkerFinding {
    const correlation = this.#correlator.correlation[end];
    for (let at = Math.max(0, place - 20); at < Math.min(this.#real.length, place + 20); at += 1) {
      this.#real[at] = correlation[2 * at]!;
      this.#imaginary[at] = correlation[2 * at + 1]!;
    }
    const power = (at: number): number =>
      this.#sinc.valueAt(this.#real, at) ** 2 + this.#sinc.valueAt(this.#imaginary, at) ** 2;
    const top = highestPlace(power, place - 1, place + 1);
    return {
      end,
      middleFrame:
        this.#blockStart + top * this.#correlator.framesPerPlace + (MARKER_SECONDS / 2) * this.#sampleRateHz,
      frameUncertainty: this.#frameUncertainty(likeness),
      likeness,
    };
  }

  /**
   * Cramer-Rao bound of an envelope's peak, `1 / (2 pi b sqrt(2 E / N0))`, `b` the standard deviation of
   * frequency over the band (P. M. Woodward, "Probability and Information Theory, with Applications to Radar", 1953); E / N0 follows
   * from the likeness `r` as `B T r^2 / (1 - r^2)`.
   */
  #frameUncertainty(likeness: number): number {
    const energyToNoise = (this.#bandHz * MARKER_SECONDS * likeness ** 2) / Math.max(1e-3, 1 - likeness ** 2);
    const spreadHz = this.#bandHz / Math.sqrt(12);
    return this.#sampleRateHz / (2 * Math.PI * spreadHz * Math.sqrt(2 * energyToNoise));
  }

  /** One marker near a block's end is seen from two blocks: the better view counts. */
  #keep(finding: MarkerFinding): void {
    const reach = (MARKER_SECONDS * this.#sampleRateHz) / 2;
    const same = this.#findings.findIndex(
      (other) => other.end === finding.end && Math.abs(other.middleFrame - finding.middleFrame) < reach,
    );
    if (same < 0) this.#findings.push(finding);
    else if (this.#findings[same]!.likeness < finding.likeness) this.#findings[same] = finding;
  }
}
