import type { Finding } from '../procedure.ts';
import type {
  CrossoverChannel,
  CrossoverTask,
  JudgedSide,
  MeasuredChannel,
  NeighbourSum,
  SideProblem,
} from './crossover.ts';
import { loudestThirdHarmonic } from './harmonics.ts';
import { decibels, foundWords, hertz, slopeWords, wantedWords } from './words.ts';

/** From here on a corner is said to be off by octaves: a wrong range or a wrong dial, not a coarse one. */
const BY_OCTAVES = 0.5;
/** A dip of a sum that is heard as a hole. Common practice. */
const DIP_DB = 3;

function evidenceOf(side: JudgedSide, measured: MeasuredChannel): string {
  const { response } = measured;
  const left = `the fit leaves ${(response.finding?.residualDb ?? 0).toFixed(2)} dB rms`;
  if (side.found !== null) return `Found: ${foundWords(side.found)}; ${left}.`;
  const { fitted } = response;
  const stretch = fitted === null ? '' : ` from ${hertz(fitted.lowHz)} to ${hertz(fitted.highHz)}`;
  return `Looked at${stretch}; ${left}.`;
}

function octavesOff(side: JudgedSide): number {
  return Math.log2(1 + (side.errorPercent ?? 0) / 100);
}

function cornerFinding(side: JudgedSide, measured: MeasuredChannel): Finding {
  const off = octavesOff(side);
  const wantedHz = hertz(side.wantedHz!);
  const byOctaves = Math.abs(off) >= BY_OCTAVES;
  const how = byOctaves
    ? `${Math.abs(off).toFixed(1)} octave${Math.abs(off) >= 1.05 ? 's' : ''}`
    : `${Math.abs(side.errorPercent!).toFixed(0)} %`;
  return {
    fault: byOctaves ? 'filter-octave-off' : 'filter-corner-off',
    sentence: `The ${side.kind} sits ${how} too ${off > 0 ? 'high' : 'low'}: ${hertz(side.found!.cutoffHz)} where ${wantedHz} is wanted.`,
    evidence: evidenceOf(side, measured),
    remedy: `Turn the corner of the ${side.kind} ${off > 0 ? 'down' : 'up'} to ${wantedHz}${byOctaves ? ' (look for a range switch as well)' : ''} and sweep again.`,
  };
}

function orderFinding(side: JudgedSide, measured: MeasuredChannel, low: boolean): Finding {
  const wanted = slopeWords(side.wanted!.order);
  return {
    fault: low ? 'filter-order-low' : 'filter-order-high',
    sentence: `The ${side.kind} falls by ${slopeWords(side.found!.order!)}; ${wanted} is wanted.`,
    evidence: evidenceOf(side, measured),
    remedy: `Set the slope of the ${side.kind} to ${wanted} (order ${side.wanted!.order}) and sweep again.`,
  };
}

function problemFinding(problem: SideProblem, side: JudgedSide, measured: MeasuredChannel): Finding {
  const evidence = evidenceOf(side, measured);
  switch (problem) {
    case 'corner-off':
      return cornerFinding(side, measured);
    case 'order-low':
    case 'order-high':
      return orderFinding(side, measured, problem === 'order-low');
    case 'alignment-other':
      return {
        fault: 'filter-alignment-other',
        sentence: `The ${side.kind} is another kind than the wanted ${wantedWords(side.wanted!)}.`,
        evidence,
        remedy: `Choose the wanted alignment, or note in the plan that this one is wanted, and sweep again.`,
      };
    case 'missing':
      return {
        fault: 'filter-missing',
        sentence: `There is no ${side.kind}; one at ${hertz(side.wantedHz!)} is wanted.`,
        evidence,
        remedy:
          side.kind === 'high-pass'
            ? 'Switch the high-pass on before anything loud is played: without it the driver gets bass that it may not stand.'
            : 'Switch the low-pass on and sweep again.',
      };
    case 'none-of-these':
      return {
        fault: 'none-of-these',
        sentence: 'What was measured is no Butterworth, Linkwitz-Riley or Bessel filter.',
        evidence: `The nearest of them misses it by ${(measured.response.finding?.residualDb ?? 0).toFixed(1)} dB rms.`,
        remedy:
          'Look for an equaliser, a bass boost or a second filter in the way: switch it off, or take the reference behind it, and sweep again.',
      };
  }
}

export function sideFindings(measured: MeasuredChannel): Finding[] {
  const { highPass, lowPass } = measured.sides;
  const all = [highPass, lowPass].flatMap((side) =>
    side.problems.map((problem) => problemFinding(problem, side, measured)),
  );
  // One response that is none of the filters is one fault, whichever ends of the band were asked for.
  return all.filter(
    ({ fault }, index) => fault !== 'none-of-these' || all.findIndex((one) => one.fault === fault) === index,
  );
}

function distortionFinding(measured: MeasuredChannel): Finding[] {
  const loudest = loudestThirdHarmonic(measured.response);
  if (loudest === null) return [];
  return [
    {
      fault: 'sweep-distorted',
      sentence: 'Something clips while the sweep plays, which bends the response.',
      evidence: `The 3rd harmonic reaches ${decibels(loudest.levelDbc)} at ${hertz(loudest.frequencyHz)}.`,
      remedy: 'Lower the source by a few volume steps, take a new reference there, and sweep again.',
    },
  ];
}

function nameOf(channels: readonly CrossoverChannel[], id: string): string {
  return channels.find((channel) => channel.id === id)?.name ?? id;
}

function sumFinding(task: CrossoverTask, sum: NeighbourSum): Finding[] {
  const { asWired, turned } = sum;
  if (asWired.deepestDb > -DIP_DB) return [];
  const lower = nameOf(task.channels, sum.lowerId);
  const upper = nameOf(task.channels, sum.upperId);
  const helps = turned.deepestDb > asWired.deepestDb + DIP_DB;
  return [
    {
      fault: helps ? 'neighbours-cancel' : 'neighbours-gap',
      sentence: `${lower} and ${upper.toLowerCase()} leave a hole of ${decibels(asWired.deepestDb)} at ${hertz(asWired.deepestHz)}.`,
      evidence: `With one of them turned over the lowest point is ${decibels(turned.deepestDb)} at ${hertz(turned.deepestHz)}.`,
      remedy: helps
        ? 'Swap plus and minus at one of the two, or use its polarity switch, and sweep that channel again.'
        : `Plan the low-pass of ${lower.toLowerCase()} and the high-pass of ${upper.toLowerCase()} closer together, or with slopes that sum, and sweep again.`,
    },
  ];
}

function isRight({ sides }: MeasuredChannel): boolean {
  return sides.highPass.problems.length === 0 && sides.lowPass.problems.length === 0;
}

/**
 * What is wrong on one channel. A hole beside a neighbour is named only where the filters of both are right: else it
 * is their fault's shadow.
 */
export function crossoverFindings(
  task: CrossoverTask,
  channelId: string,
  measured: Readonly<Record<string, MeasuredChannel>>,
  sums: readonly NeighbourSum[],
): Finding[] {
  const own = measured[channelId];
  if (own === undefined) return [];
  const told = sums.filter(({ lowerId, upperId }) =>
    [lowerId, upperId].every((id) => measured[id] !== undefined && isRight(measured[id])),
  );
  return [...sideFindings(own), ...distortionFinding(own), ...told.flatMap((sum) => sumFinding(task, sum))];
}
