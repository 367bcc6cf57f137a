import type { Caution } from '../../job/caution-words.ts';
import { type Observable, observable } from '../live/observable.ts';

/** What is to be read before one kind of step. */
export interface StepCautions {
  id: string;
  title: string;
  cautions: readonly Caution[];
  /** Confirmed once per session of this tab; a reload does not ask again, a new visit does. */
  read: Observable<boolean>;
}

function keyOf(id: string): string {
  return `kneepoint-${id}-cautions-read`;
}

export function stepCautions(step: Omit<StepCautions, 'read'>): StepCautions {
  return { ...step, read: observable(sessionStorage.getItem(keyOf(step.id)) === 'yes') };
}

export function confirmStep({ id, read }: StepCautions): void {
  sessionStorage.setItem(keyOf(id), 'yes');
  read.set(true);
}
