import { type ChannelResponse, channelResponse } from '../../dsp/response/channel-response.ts';
import { SweepDeconvolver } from '../../dsp/response/deconvolver.ts';
import { type AnalysedSweep, analyseSweep, leadFrames } from '../../dsp/response/sweep-analysis.ts';
import { heldBand } from '../../dsp/response/sweep-windows.ts';
import { UsageError } from '../usage-error.ts';
import { type FoundSweep, findSweep } from './find-sweep.ts';
import type { NamedSweep } from './manifest-file.ts';
import type { Recording } from './recording.ts';

/** A sweep of the manifest, looked for in a recording. */
export interface SearchedSweep {
  sweep: NamedSweep;
  deconvolver: SweepDeconvolver;
  /** By channel. */
  found: (FoundSweep | null)[];
}

export interface MeasuredResponse {
  startSeconds: number;
  response: ChannelResponse;
}

export function deconvolverFor(recording: Recording, sweep: NamedSweep): SweepDeconvolver {
  try {
    return new SweepDeconvolver(sweep.spec, recording.info.sampleRateHz);
  } catch (error) {
    if (error instanceof RangeError) throw new UsageError(`${recording.path}: ${error.message}`);
    throw error;
  }
}

function contrastOf(searched: SearchedSweep): number {
  return Math.max(0, ...searched.found.map((found) => found?.contrast ?? 0));
}

/** Looks for each sweep in each channel; the sweep that stands out most is the one that was played. */
export async function searchSweeps(
  recording: Recording,
  sweeps: readonly NamedSweep[],
  onWindow: () => void,
): Promise<SearchedSweep> {
  let best: SearchedSweep | null = null;
  for (const sweep of sweeps) {
    const deconvolver = deconvolverFor(recording, sweep);
    const found: (FoundSweep | null)[] = [];
    for (let channel = 0; channel < recording.info.channelCount; channel += 1) {
      found.push(await findSweep(deconvolver, recording, channel, onWindow));
    }
    const searched = { sweep, deconvolver, found };
    if (best === null || contrastOf(searched) > contrastOf(best)) best = searched;
  }
  if (best !== null && contrastOf(best) > 0) return best;
  const names = sweeps.flatMap((sweep) => sweep.ids).join(', ');
  throw new UsageError(
    `${recording.path}: no sweep of the manifest (${names}) is in this recording; record one of these tracks whole.`,
  );
}

async function analysedAt(
  searched: SearchedSweep,
  recording: Recording,
  channel: number,
): Promise<{ start: number; analysed: AnalysedSweep } | null> {
  const found = searched.found[channel] ?? null;
  if (found === null) return null;
  const { deconvolver } = searched;
  const start = found.startFrame - leadFrames(deconvolver.sampleRateHz);
  const samples = new Float64Array(deconvolver.length);
  await recording.read(channel, start, samples);
  const analysed = analyseSweep(deconvolver, samples);
  return analysed === null ? null : { start, analysed };
}

/** A recording's reference: the same sweep, found in another recording. */
export interface Reference {
  recording: Recording;
  searched: SearchedSweep;
}

async function referenceFor(reference: Reference, channel: number): Promise<AnalysedSweep> {
  const { recording, searched } = reference;
  const from = recording.info.channelCount === 1 ? 0 : channel;
  const analysed = await analysedAt(searched, recording, from);
  if (analysed !== null) return analysed.analysed;
  throw new UsageError(`${recording.path}: channel ${from} holds no sweep to divide channel ${channel} by.`);
}

/** @returns by channel; `null` where the sweep is not in it */
export async function measureResponses(
  recording: Recording,
  searched: SearchedSweep,
  reference: Reference | null,
): Promise<(MeasuredResponse | null)[]> {
  const { deconvolver } = searched;
  const measured: (MeasuredResponse | null)[] = [];
  for (let channel = 0; channel < recording.info.channelCount; channel += 1) {
    const at = await analysedAt(searched, recording, channel);
    if (at === null) {
      measured.push(null);
      continue;
    }
    const divisor = reference === null ? null : await referenceFor(reference, channel);
    const startFrame = at.start + at.analysed.arrival;
    const held = heldBand(deconvolver, startFrame, recording.info.frames);
    const response = channelResponse(deconvolver, at.analysed, divisor, held);
    // Against a reference, the delay is one between the two recordings, and says nothing of this one's start.
    const delaySeconds = divisor === null ? (response.delaySeconds ?? 0) : 0;
    measured.push({ startSeconds: startFrame / deconvolver.sampleRateHz + delaySeconds, response });
  }
  return measured;
}
