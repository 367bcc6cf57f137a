import type { Finding } from '../procedure.ts';
import type { CheckFigures } from './check.ts';
import type { ReadPart } from './read-parts.ts';

/** A fault, and the parts that show it. */
export interface Complaint extends Finding {
  /** Of the job, or the words for a group of them. */
  channel: string;
  read: readonly ReadPart[];
}

/** What a judge says: faults, what it held parts against, and what it could not judge. */
export interface Judgement {
  complaints: Complaint[];
  limits: { read: ReadPart; limits: CheckFigures }[];
  /** One sentence each. */
  open: { read: ReadPart; why: string }[];
}

export function nothingSaid(): Judgement {
  return { complaints: [], limits: [], open: [] };
}

export function together(judgements: readonly Judgement[]): Judgement {
  return {
    complaints: judgements.flatMap(({ complaints }) => complaints),
    limits: judgements.flatMap(({ limits }) => limits),
    open: judgements.flatMap(({ open }) => open),
  };
}
