import type { CheckPoint, CheckTask, Side, TerminalsPoint } from '../procedure/check/check.ts';
import { expectedBands } from './balance/expected-bands.ts';
import { pairsOf } from './balance/pairs.ts';
import { channelChain, channelOf } from './channel-chain.ts';
import type { Job } from './document.ts';
import { planJobChannel } from './job-plan.ts';
import type { Manifest, RunTrack } from './manifest.ts';
import { JobRefused } from './refused.ts';
import { DEFAULT_TOLERANCES } from './tolerances.ts';

export interface CheckWish {
  /**
   * For each channel of the recording: the job's channel at whose terminals it was taken, `cabin` for a microphone,
   * `none` for a lead that is not connected. Empty: a microphone on every one.
   */
  at: readonly string[];
  channelCount: number;
  /** Volts RMS of a full-scale sine at the measured point; `null` where unknown. */
  voltsPerFs: number | null;
}

/** The run track of a tone set. @throws JobRefused where it has none */
export function runTrackOf({ tracks }: Manifest): RunTrack {
  const run = tracks.find((track) => track.kind === 'run');
  if (run !== undefined) return run;
  throw new JobRefused('This tone set has no track of kind "run"; render one that has, and play that.');
}

/**
 * What a recording of a run track is checked for.
 *
 * @param job `null` where none is at hand: then levels, filters and balance have nothing to be held against
 * @throws JobRefused where the points do not fit the recording, the job or the track
 */
export function checkTask(run: RunTrack, job: Job | null, wish: CheckWish): CheckTask {
  const { markers, guardSeconds, marginSeconds, parts } = run;
  const { cornerPercent, balanceDb, noiseDb } = job?.tolerances ?? DEFAULT_TOLERANCES;
  return {
    run: { markers, guardSeconds, marginSeconds, parts },
    points: pointsOf(run, job, wish),
    channels: (job?.channels ?? []).map((channel) => ({
      channelId: channel.id,
      name: channel.name,
      fedBy: channel.fedBy,
      band: channel.band,
      bands: expectedBands(channel),
    })),
    voltsPerFs: wish.voltsPerFs,
    limits: { cornerPercent, balanceDb, noiseDb },
  };
}

function pointsOf(run: RunTrack, job: Job | null, { at, channelCount }: CheckWish): CheckPoint[] {
  if (at.length === 0) return Array.from({ length: channelCount }, () => ({ at: 'cabin' }));
  if (at.length !== channelCount) {
    throw new JobRefused(
      `${at.length === 1 ? '1 point was' : `${at.length} points were`} named, and the recording has ${channelCount} ${channelCount === 1 ? 'channel' : 'channels'}; name one for each, "none" for a lead that is not connected.`,
    );
  }
  if (at.every((id) => id === 'none')) {
    throw new JobRefused(
      'Every lead is named as not connected; at least one must be at a point, or in the cabin.',
    );
  }
  const twice = at.find((id, index) => !isGeneral(id) && at.indexOf(id) < index);
  if (twice !== undefined) {
    throw new JobRefused(`Point ${twice} was named twice; the leads are at different channels.`);
  }
  return at.map((id): CheckPoint => {
    if (id === 'cabin') return { at: 'cabin' };
    if (id === 'none') return { at: 'none' };
    return job === null ? unplanned(run, id) : terminalsPoint(job, id);
  });
}

function isGeneral(id: string): boolean {
  return id === 'cabin' || id === 'none';
}

/** What is known of one channel's terminals. @throws JobRefused where the job has no such channel, or no plan for it */
export function terminalsPoint(job: Job, channelId: string): TerminalsPoint {
  const channel = channelOf(job, channelId);
  const { summedInputs, inputsWithTone } = channelChain(job, channelId);
  const { targetVolts } = planJobChannel(job, channelId);
  const { name, fedBy, band, slopes, overlapDb, toleranceDb } = channel;
  const pair = pairsOf(job).find(({ leftId, rightId }) => leftId === channelId || rightId === channelId);
  const partnerId = pair === undefined ? null : pair.leftId === channelId ? pair.rightId : pair.leftId;
  return {
    at: 'terminals',
    channelId,
    name,
    fedBy,
    wanted: { band, slopes },
    targetVolts: targetVolts === null ? null : (targetVolts * inputsWithTone) / summedInputs,
    overlapDb,
    toleranceDb,
    partnerId,
  };
}

/** Without a job the track's own parts say which side feeds a channel; its name does where they are for all. */
function unplanned({ parts }: RunTrack, id: string): TerminalsPoint {
  const served = [...new Set(parts.flatMap(({ serves }) => serves))];
  if (served.length > 0 && !served.includes(id)) {
    throw new JobRefused(
      `This run track has no part for "${id}"; it serves ${served.join(', ')}, and "cabin" is a microphone.`,
    );
  }
  const loudest = parts.flatMap((part) => (part.kind === 'sine' && part.serves.includes(id) ? [part] : []));
  const partnerId = otherSide(id);
  return {
    at: 'terminals',
    channelId: id,
    name: id,
    fedBy:
      served.length > 0 ? (parts.find(({ serves }) => serves.includes(id))?.channels ?? 'both') : sideIn(id),
    wanted: null,
    targetVolts: null,
    overlapDb: Math.min(20, ...loudest.map(({ levelDbfs }) => -levelDbfs)),
    toleranceDb: DEFAULT_TOLERANCES.balanceDb,
    partnerId,
  };
}

function sideIn(id: string): Side {
  const words = id.split('-');
  if (words.includes('left')) return 'left';
  return words.includes('right') ? 'right' : 'both';
}

function otherSide(id: string): string | null {
  const side = sideIn(id);
  if (side === 'both') return null;
  return id
    .split('-')
    .map((word) => (word === side ? (side === 'left' ? 'right' : 'left') : word))
    .join('-');
}
