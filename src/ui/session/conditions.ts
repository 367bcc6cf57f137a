/** Conditions of the next accepted reading, kept per job between visits. */
import { observable } from '../live/observable.ts';

export interface ConditionsDraft {
  supplyVolts: number | null;
  engineRunning: boolean | null;
  loaded: boolean | null;
  volumeStep: number | null;
}

const BLANK: ConditionsDraft = { supplyVolts: null, engineRunning: null, loaded: null, volumeStep: null };

export const conditionsDraft = observable<ConditionsDraft>(BLANK);

function keyOf(jobId: string): string {
  return `kneepoint-conditions-${jobId}`;
}

/** Reads the kept draft; a first visit begins with the job's own supply voltage. */
export function openConditions(jobId: string, supplyVolts: number | null): void {
  const kept = localStorage.getItem(keyOf(jobId));
  conditionsDraft.set(
    kept === null
      ? { ...BLANK, supplyVolts }
      : { ...BLANK, ...(JSON.parse(kept) as Partial<ConditionsDraft>) },
  );
}

export function setConditions(jobId: string, draft: ConditionsDraft): void {
  conditionsDraft.set(draft);
  localStorage.setItem(keyOf(jobId), JSON.stringify(draft));
}
