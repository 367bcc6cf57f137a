import { type Click, findClicks } from './clicks.ts';
import { type Dropout, findDropouts } from './dropouts.ts';
import { findPhaseBreaks } from './phase-breaks.ts';

/** Everything that breaks into one channel of a record, with its times. */
export interface Interruptions {
  clicks: Click[];
  dropouts: Dropout[];
  /** More than ten clicks a second are no single clicks: a buzz, or the corners of a clipped wave. */
  crowded: boolean;
}

const MOST_CLICKS_PER_SECOND = 10;

/** A click this near to the edge of a dropout is that edge. */
const EDGE_SECONDS = 0.012;

/**
 * Clicks and dropouts of a stretch of samples, each counted once: a jump at the edge of a dropout is not a
 * click as well, and a phase break within a hole is the hole.
 *
 * @param samples one channel, full scale 1.0; held in memory, seconds to minutes
 */
export function findInterruptions(samples: Float32Array | Float64Array, sampleRateHz: number): Interruptions {
  const lost = findDropouts(samples, sampleRateHz);
  const breaks = findPhaseBreaks(samples, sampleRateHz).filter(
    ({ seconds }) => !lost.some(near(seconds, 0.03)),
  );
  const dropouts = [...lost, ...breaks].sort((a, b) => a.seconds - b.seconds);
  const clicks = findClicks(samples, sampleRateHz).filter(({ seconds }) => {
    const phaseBreak = breaks.find(near(seconds, 0.03));
    // The click is where exactly the break lies.
    if (phaseBreak !== undefined) phaseBreak.seconds = seconds;
    return phaseBreak === undefined && !lost.some(near(seconds, EDGE_SECONDS));
  });
  return {
    clicks,
    dropouts,
    crowded: clicks.length > (MOST_CLICKS_PER_SECOND * samples.length) / sampleRateHz,
  };
}

function near(seconds: number, within: number): (dropout: Dropout) => boolean {
  return (dropout) =>
    seconds > dropout.seconds - within && seconds < dropout.seconds + dropout.lengthSeconds + within;
}
