import type { ClippingShape, ClippingVerdict } from '../reading.ts';

/** One reading behind a stage, with that stage's gain at some setting. */
export interface StageReading {
  levelDbfs: number;
  thdPercent: number;
  verdict: ClippingVerdict;
  shape?: ClippingShape | null;
  /** Ceiling by the wave itself, where it showed one. */
  kneeDbfs?: number | null;
}

/** `earlier`: ahead of the control that was turned. `input`: the measuring input itself. */
type StageOfClipping = 'this' | 'earlier' | 'input';

export interface StageFinding {
  /** `null` where nothing clips or the readings cannot say. */
  stage: StageOfClipping | null;
  /** Probability of what was said, both answers having been equally likely before; 0 with `null`. */
  confidence: number;
  evidence: string;
}

/** Said only when this sure. */
const SURE = 0.95;
/** Readings must cover this much level before they can tell one stage from another. */
const LEAST_SPAN_DB = 0.5;

/** Scatter of ln(THD) from reading to reading, and of slopes by what is no ideal limiter. */
const LN_THD_SIGMA = 0.1;
const THD_SLOPE_SIGMA = 0.03;
const KNEE_SIGMA_DB = 0.05;
const KNEE_SLOPE_SIGMA = 0.05;
/** The softest limit there is (a 3rd that grows by 2 dB per dB) in ln(THD) per dB of level. */
const LEAST_GROWTH = 0.2;
/** A soft ceiling read as a hard one creeps up with the level, no faster than this. */
const MOST_CREEP = 0.6;
/** Log-likelihood below which a hypothesis does not fit at all. */
const HOPELESS = -12;

const nothing = (evidence: string): StageFinding => ({ stage: null, confidence: 0, evidence });

/**
 * Whose ceiling a clipped wave shows, from two or more readings at different settings of one stage's gain.
 *
 * Distortion made ahead of the control is turned up and down with everything else: THD stays, and the ceiling
 * seems to follow the level (slope of knee against level 1, of ln THD 0). Distortion made by this stage goes as
 * the level falls (knee's slope 0, or little where the ceiling is soft; ln THD at least 0.2 per dB). Both are
 * weighed by their likelihood. Codes stuck at the converter's ends are the input's own.
 *
 * @param readings in any order; those with no level or distortion are left out
 */
export function whoseClipping(readings: readonly StageReading[]): StageFinding {
  const overloaded = readings.filter((one) => one.verdict === 'input-overload').length;
  const usable = readings.filter(
    (one) => one.verdict !== 'input-overload' && one.thdPercent > 0 && Number.isFinite(one.levelDbfs),
  );
  if (overloaded > usable.length || (overloaded > 0 && !usable.some(isLimited))) {
    return {
      stage: 'input',
      confidence: 1 - 0.5 ** (3 + overloaded),
      evidence: 'Codes sit at the ends of our own converter: the input clips. Turn it down.',
    };
  }
  if (!usable.some(isLimited)) return nothing('Nothing clips.');
  const levels = usable.map((one) => one.levelDbfs);
  const spanDb = Math.max(...levels) - Math.min(...levels);
  if (!(spanDb >= LEAST_SPAN_DB))
    return nothing('Turn this gain down by some decibels: the level must change.');
  return weighed(usable, spanDb);
}

function isLimited({ verdict, shape }: StageReading): boolean {
  return verdict === 'clipped' || shape === 'soft';
}

function weighed(readings: readonly StageReading[], spanDb: number): StageFinding {
  const growth = slopeOf(
    readings.map((one) => [one.levelDbfs, Math.log(one.thdPercent)]),
    LN_THD_SIGMA,
    THD_SLOPE_SIGMA,
  );
  const knees = readings.flatMap((one): [number, number][] =>
    one.kneeDbfs === null || one.kneeDbfs === undefined ? [] : [[one.levelDbfs, one.kneeDbfs]],
  );
  const creep = slopeOf(knees, KNEE_SIGMA_DB, KNEE_SLOPE_SIGMA);
  const earlier = likelihood(growth, 0, 0) + likelihood(creep, 1, 1);
  const here = likelihood(growth, LEAST_GROWTH, Number.POSITIVE_INFINITY) + likelihood(creep, 0, MOST_CREEP);
  if (Math.max(earlier, here) < HOPELESS) return nothing('Distortion neither stays nor goes with the level.');
  const isEarlier = earlier > here;
  const confidence = 1 / (1 + Math.exp(-Math.abs(earlier - here)));
  if (confidence < SURE) return nothing('Turn this gain further down: the change is too small to tell.');
  const [most, least] = [Math.max, Math.min].map((pick) => pick(...readings.map((one) => one.thdPercent)));
  const evidence = isEarlier
    ? `Distortion stays at ${figure(most!)} % while the level changes by ${figure(spanDb)} dB: an earlier stage clips.`
    : `Distortion goes from ${figure(most!)} % to ${figure(least!)} % as the level falls by ${figure(spanDb)} dB: this stage clips.`;
  return { stage: isEarlier ? 'earlier' : 'this', confidence, evidence };
}

const figure = (value: number) => Number(value.toPrecision(2)).toString();

interface Slope {
  value: number;
  sigma: number;
}

/** Least-squares slope; `null` where two points do not stand apart. */
function slopeOf(points: readonly [number, number][], sigma: number, model: number): Slope | null {
  const mean = (at: 0 | 1) => points.reduce((sum, point) => sum + point[at], 0) / points.length;
  const [meanX, meanY] = [mean(0), mean(1)];
  let [square, joint] = [0, 0];
  for (const [x, y] of points) {
    square += (x - meanX) ** 2;
    joint += (x - meanX) * (y - meanY);
  }
  if (!(square > 0.01)) return null;
  return { value: joint / square, sigma: Math.hypot(sigma / Math.sqrt(square), model) };
}

/** Log-likelihood of a slope that should lie between two bounds; 0 at best, and where there is no slope. */
function likelihood(slope: Slope | null, least: number, most: number): number {
  if (slope === null) return 0;
  const away = Math.max(least - slope.value, slope.value - most, 0) / slope.sigma;
  return -0.5 * away * away;
}

/** What turning one stage's control showed; the stages' names are the caller's. */
export interface TurnedStage<Stage extends string> {
  stage: Stage;
  readings: readonly StageReading[];
}

export interface NamedStage<Stage extends string> {
  /** `source`: ahead of every control that was turned. */
  stage: Stage | 'input' | 'source' | null;
  confidence: number;
  evidence: string[];
}

/**
 * Names the stage that clips out of a chain, by turning its controls one after another.
 *
 * @param turned the last stage (nearest the input) first, back towards the source
 */
export function nameClippingStage<Stage extends string>(
  turned: readonly TurnedStage<Stage>[],
): NamedStage<Stage> {
  const evidence: string[] = [];
  let confidence = 1;
  for (const { stage, readings } of turned) {
    const finding = whoseClipping(readings);
    evidence.push(finding.evidence);
    if (finding.stage === null) return { stage: null, confidence: 0, evidence };
    confidence *= finding.confidence;
    if (finding.stage === 'input') return { stage: 'input', confidence, evidence };
    if (finding.stage === 'this') return { stage, confidence, evidence };
  }
  return {
    stage: turned.length === 0 ? null : 'source',
    confidence: turned.length === 0 ? 0 : confidence,
    evidence,
  };
}
