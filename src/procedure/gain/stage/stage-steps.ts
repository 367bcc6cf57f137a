import { nameClippingStage, type StageReading } from '../../../dsp/knee/whose-clipping.ts';
import { KNEE_MARGIN_DB } from '../aim.ts';
import type { GainReading, GainTask } from '../gain.ts';
import { SETTLED_READINGS, settled } from '../settled.ts';
import type { NamedClipping, StageCheck } from './stage-check.ts';

/** A second reading closer to the first than this is the first one still, dB. */
const MOVED_DB = 0.5;
const KEPT_READINGS = 20;
/** As many settled readings apart count as a control at rest: half a second at 20 a second. */
const AT_REST_READINGS = 10;

/** @param turned what turning the control has shown already, so that no reading need be taken again; or `null` */
export function beginStageCheck(turned: NamedClipping | null): StageCheck {
  return {
    phase: turned === null ? 'as-found' : 'named',
    isLeadAway: false,
    heard: [],
    asFound: null,
    asFoundOverdriveDb: null,
    lowered: [],
    missing: null,
    named: turned,
  };
}

/** The lead goes to the radio's speaker terminals: which of the two stages ahead is it? */
export function lookAtRadio(check: StageCheck): StageCheck {
  return check.named?.stage === 'upstream'
    ? { ...check, phase: 'radio', isLeadAway: true, heard: [] }
    : check;
}

/** The check after one more reading. */
export function stageHeard(check: StageCheck, reading: GainReading, task: GainTask): StageCheck {
  if (check.phase === 'named') return check;
  const heard = [...check.heard, reading].slice(-KEPT_READINGS);
  const next = { ...check, heard };
  if (isOverloaded(heard)) return { ...next, phase: 'named', named: OVERLOADED };
  const still = atRest(heard, task);
  if (still === null) return next;
  switch (check.phase) {
    case 'as-found':
      return firstReading(next, still);
    case 'lower':
      return secondReading(next, still);
    case 'radio':
      return radioReading(next, still);
  }
}

/** The newest reading of a control that has rested for half a second. */
function atRest(heard: readonly GainReading[], task: GainTask): GainReading | null {
  if (heard.length < AT_REST_READINGS) return null;
  const rested = heard.slice(-AT_REST_READINGS);
  const first = settled(rested.slice(0, SETTLED_READINGS), task)?.at(0)?.levelDbfs ?? null;
  const last = settled(rested, task)?.at(-1) ?? null;
  if (first === null || last === null || last.levelDbfs === null) return null;
  return Math.abs(last.levelDbfs - first) < MOVED_DB / 5 ? last : null;
}

function firstReading(check: StageCheck, reading: GainReading): StageCheck {
  const { verdict, overdriveDb } = reading.clipping;
  if (verdict === 'clean') {
    const evidence = `Clean as it stands: distortion ${percent(reading.thdPercent)} and no flattened crests.`;
    return { ...check, phase: 'named', named: { stage: 'none', confidence: 1, evidence, turnBackDb: null } };
  }
  if (verdict !== 'clipped') {
    return { ...check, missing: 'Whether this wave clips cannot be decided yet; turn up a little.' };
  }
  return {
    ...check,
    phase: 'lower',
    heard: [],
    asFound: stageReading(reading),
    asFoundOverdriveDb: overdriveDb,
    missing: null,
  };
}

function secondReading(check: StageCheck, reading: GainReading): StageCheck {
  const one = stageReading(reading);
  if (check.asFound === null || Math.abs(one.levelDbfs - check.asFound.levelDbfs) < MOVED_DB) {
    return { ...check, missing: null };
  }
  const lowered = [...check.lowered, one].slice(-KEPT_READINGS);
  const found = nameClippingStage([{ stage: 'amplifier', readings: [check.asFound, ...lowered] }]);
  if (found.stage === null) return { ...check, lowered, missing: found.evidence.at(-1) ?? null };
  const stage = found.stage === 'source' ? 'upstream' : found.stage;
  const named: NamedClipping = {
    stage,
    confidence: found.confidence,
    evidence: found.evidence.join(' '),
    turnBackDb:
      stage === 'amplifier' && check.asFoundOverdriveDb !== null
        ? check.asFoundOverdriveDb + KNEE_MARGIN_DB
        : null,
  };
  return { ...check, phase: 'named', lowered, missing: null, named };
}

function radioReading(check: StageCheck, reading: GainReading): StageCheck {
  const { verdict } = reading.clipping;
  if (verdict === 'undecided' || check.named === null) {
    return { ...check, missing: 'Whether the wave at the radio clips cannot be decided yet.' };
  }
  const isRadio = verdict === 'clipped';
  const there = isRadio
    ? `At the radio’s own terminals the wave is clipped already (distortion ${percent(reading.thdPercent)}).`
    : `At the radio’s own terminals the wave is clean (distortion ${percent(reading.thdPercent)}), behind the converter it is not.`;
  const named = {
    ...check.named,
    stage: isRadio ? ('radio' as const) : ('converter' as const),
    evidence: `${check.named.evidence} ${there}`,
  };
  return { ...check, phase: 'named', missing: null, named };
}

const OVERLOADED: NamedClipping = {
  stage: 'input',
  confidence: 1,
  evidence: 'Codes sit at the ends of our own converter, so the wave that came in cannot be seen.',
  turnBackDb: null,
};

function isOverloaded(heard: readonly GainReading[]): boolean {
  const newest = heard.slice(-SETTLED_READINGS);
  return (
    newest.length === SETTLED_READINGS && newest.every((one) => one.clipping.verdict === 'input-overload')
  );
}

function stageReading(reading: GainReading): StageReading {
  const { verdict, shape, kneeDbfs } = reading.clipping;
  return {
    levelDbfs: reading.levelDbfs ?? Number.NEGATIVE_INFINITY,
    thdPercent: reading.thdPercent ?? 0,
    verdict,
    shape,
    kneeDbfs,
  };
}

function percent(value: number | null): string {
  return value === null ? 'unknown' : `${Number(value.toPrecision(2))} %`;
}
