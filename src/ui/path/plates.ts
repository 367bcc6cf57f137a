/** What each plate says: worked out from the job, the input and its calibration. */
import type { EngineState } from '../../audio/engine/engine-state.ts';
import type { CalibrationStamp, Job } from '../../job/document.ts';
import { fixed } from '../format/number.ts';
import type { Mark } from '../marks/mark.ts';
import { channelProgress, jobGainMark } from '../session/channel-progress.ts';
import { planOf } from '../session/plan-of.ts';
import type { Plate } from './SignalPath.tsx';
import { NOT_YET, STATION_IDS } from './stations.ts';

export interface PlateFacts {
  job: Job | null;
  channelId: string | null;
  state: EngineState;
  known: CalibrationStamp | null;
}

type Said = Pick<Plate, 'mark' | 'figure' | 'detail' | 'built'>;

function said(mark: Mark, figure: string, detail: string | null = null): Said {
  return { mark, figure, detail, built: true };
}

function planPlate({ job }: PlateFacts): Said {
  if (job === null) return said('not-done', 'no job yet');
  const plans = job.channels.map((channel) => planOf(job, channel.id));
  const aimed = plans.filter((plan) => typeof plan !== 'string' && plan.toneVolts !== null).length;
  const figure = aimed === 1 ? '1 target' : `${aimed} targets`;
  return aimed === plans.length ? said('done', figure) : said('under-way', `${figure} of ${plans.length}`);
}

function inputPlate({ state, known }: PlateFacts): Said {
  const { phase, trouble } = state;
  if (trouble !== null) return said('out-of-tolerance', 'stopped');
  if (phase === 'idle' || phase === 'stopped' || phase === 'asking')
    return said('not-done', 'nothing is heard yet');
  if (known === null) return said('under-way', 'no volts yet');
  if (known.basis === 'assumed') return said('under-way', 'volts assumed');
  return said('done', `${fixed(known.voltsPerFs, 1)} V full scale`);
}

function gainPlate({ job, channelId }: PlateFacts): Said {
  if (job === null) return said('not-done', 'no job yet');
  const progress = job.channels.map((channel) => channelProgress(job, channel.id));
  const near = progress.find((one) => one.channelId === channelId) ?? progress[0];
  const channel = job.channels.find((one) => one.id === near?.channelId);
  return said(jobGainMark(progress), near?.figure ?? '', channel?.name.toLowerCase() ?? null);
}

export function makePlates(facts: PlateFacts): Plate[] {
  return STATION_IDS.map((station) => {
    if (station === 'plan') return { station, ...planPlate(facts) };
    if (station === 'input') return { station, ...inputPlate(facts) };
    if (station === 'gain') return { station, ...gainPlate(facts) };
    if (NOT_YET[station] === undefined) throw new Error(`Station ${station} has no plate.`);
    return { station, ...said('not-done', 'not in this version'), built: false };
  });
}
