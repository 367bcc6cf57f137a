/** What each plate says: worked out from the job's progress, the input and its calibration. */
import type { EngineState } from '../../audio/engine/engine-state.ts';
import type { CalibrationStamp, Job } from '../../job/document.ts';
import { fixed } from '../../job/format/number.ts';
import type { Checkpoint } from '../../job/progress/checkpoint.ts';
import { jobProgress } from '../../job/progress/job-progress.ts';
import { signOffStanding } from '../../job/sign-off/sign-off-standing.ts';
import { day } from '../format/moment.ts';
import type { Mark } from '../marks/mark.ts';
import { channelProgress } from '../session/channel-progress.ts';
import { planOf } from '../session/plan-of.ts';
import type { Plate } from './SignalPath.tsx';
import { newestOf, stationFigure } from './station-figure.ts';
import { stationMark } from './station-mark.ts';
import { STATION_IDS, type StationId } from './stations.ts';

export interface PlateFacts {
  job: Job | null;
  channelId: string | null;
  state: EngineState;
  known: CalibrationStamp | null;
}

type Said = Pick<Plate, 'mark' | 'figure' | 'detail'>;

function said(mark: Mark, figure: string, detail: string | null = null): Said {
  return { mark, figure, detail };
}

function planPlate(job: Job): Said {
  const plans = job.channels.map((channel) => planOf(job, channel.id));
  const aimed = plans.filter((plan) => typeof plan !== 'string' && plan.toneVolts !== null).length;
  const figure = aimed === 1 ? '1 target' : `${aimed} targets`;
  return aimed === plans.length ? said('done', figure) : said('under-way', `${figure} of ${plans.length}`);
}

function inputPlate({ state, known }: PlateFacts, points: readonly Checkpoint[]): Said {
  const { phase, trouble } = state;
  if (trouble !== null) return said('out-of-tolerance', 'stopped');
  if (phase === 'idle' || phase === 'stopped' || phase === 'asking')
    return said('not-done', 'nothing is heard yet');
  const mark = stationMark(points);
  if (mark === 'out-of-tolerance') return said(mark, 'not honest');
  if (known === null) return said('under-way', 'no volts yet');
  if (known.basis === 'assumed') return said('under-way', 'volts assumed');
  const volts = `${fixed(known.voltsPerFs, 1)} V`;
  return mark === 'done' ? said('done', `${volts} full scale`) : said('under-way', `${volts}, unchecked`);
}

function gainPlate(job: Job, channelId: string | null, points: readonly Checkpoint[]): Said {
  const near = job.channels.find((one) => one.id === channelId) ?? job.channels[0];
  if (near === undefined) return said('not-done', '');
  return said(stationMark(points), channelProgress(job, near.id).figure, near.name.toLowerCase());
}

function signOffPlate(job: Job): Said {
  const standing = signOffStanding(job);
  if (standing.standing === 'none') return said('not-done', 'not signed');
  const when = `signed ${day(standing.signOff.at)}`;
  return standing.standing === 'current' ? said('done', when) : said('stale', `${when}, changed since`);
}

function plateOf(station: StationId, facts: PlateFacts, progress: readonly Checkpoint[]): Said {
  const { job, channelId } = facts;
  const points = progress.filter((point) => point.station === station);
  if (station === 'input') return inputPlate(facts, points);
  if (job === null) return said('not-done', 'no job yet');
  if (station === 'plan') return planPlate(job);
  if (station === 'sign-off') return signOffPlate(job);
  if (station === 'gain') return gainPlate(job, channelId, points);
  return said(stationMark(points), stationFigure(points, newestOf(points)));
}

export function makePlates(facts: PlateFacts): Plate[] {
  const progress = facts.job === null ? [] : jobProgress(facts.job);
  return STATION_IDS.map((station) => ({ station, ...plateOf(station, facts, progress) }));
}
