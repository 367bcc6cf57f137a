import { PlanRefused } from '../../plan/refused.ts';
import { runOhms } from '../../plan/wire/wire-run.ts';
import type { Procedure } from '../procedure.ts';
import { supplyAcceptance } from './acceptance.ts';
import { supplyFigures } from './figures.ts';
import { supplyFindings } from './findings.ts';
import { supplyInstruction } from './instruction.ts';
import { supplyResult } from './result.ts';
import type {
  SupplyCurrent,
  SupplyEvent,
  SupplyResult,
  SupplyState,
  SupplyStep,
  SupplyTask,
  VoltsPair,
} from './supply.ts';

/** What has been typed, before anything is concluded from it. */
type Typed = Pick<SupplyState, 'task' | 'meter' | 'volts' | 'current'>;

/** A pocket multimeter on DC volts (common practice); its sheet goes first. */
const USUAL_METER = { percentOfReading: 0.5, digits: 3 };

/** Past any vehicle's supply: a slip of the finger. */
const MOST_VOLTS = 60;
const MOST_AMPERES = 2000;

/**
 * The part before anything is typed.
 * @throws RangeError where a figure of the task is not positive, or a wire cannot exist.
 */
export function supplyStart(task: SupplyTask): SupplyState {
  for (const name of ['ratedWatts', 'supplyVolts', 'groundVolts'] as const) {
    if (!(task[name] > 0) || !Number.isFinite(task[name])) {
      throw new RangeError(
        `${name} of amplifier ${task.amplifierId} is ${task[name]}; it must be a positive number.`,
      );
    }
  }
  try {
    for (const run of [task.positive, task.ground]) if (run !== null) runOhms(run);
  } catch (fault) {
    if (!(fault instanceof PlanRefused)) throw fault;
    throw new RangeError(`Amplifier ${task.amplifierId}: ${fault.message}`);
  }
  return concluded({
    task,
    meter: USUAL_METER,
    volts: { 'ground-leg': null, amplifier: null, battery: null },
    current: null,
  });
}

/**
 * The part after one event; the state given is left as it was. Typing a pair anew takes the place of the one before.
 * @throws RangeError for a figure that no meter shows.
 */
export function supplyStep(state: SupplyState, event: SupplyEvent): SupplyState {
  switch (event.type) {
    case 'volts':
      checkPair(event.pair, event.point === 'ground-leg');
      return concluded({ ...state, volts: { ...state.volts, [event.point]: event.pair } });
    case 'current':
      checkCurrent(event.current);
      return concluded({ ...state, current: event.current });
    case 'meter': {
      const { percentOfReading, digits } = event.meter;
      if (!(percentOfReading >= 0 && percentOfReading < 100 && digits >= 0 && digits < 1000)) {
        throw new RangeError(
          `A meter of ±(${percentOfReading} % + ${digits} digits) cannot be; both figures stand in its sheet, from 0 up.`,
        );
      }
      return concluded({ ...state, meter: event.meter });
    }
  }
}

function checkPair({ restVolts, toneVolts, voltsPerDigit }: VoltsPair, isDrop: boolean): void {
  for (const volts of [restVolts, toneVolts]) {
    const fits = isDrop ? Math.abs(volts) <= MOST_VOLTS : volts > 0 && volts <= MOST_VOLTS;
    if (!fits) {
      const right = isDrop ? `between -${MOST_VOLTS} and ${MOST_VOLTS} V` : `above 0, up to ${MOST_VOLTS} V`;
      throw new RangeError(`${volts} V was typed; a reading here is ${right}.`);
    }
  }
  if (!(voltsPerDigit > 0))
    throw new RangeError(`A last digit of ${voltsPerDigit} V cannot be; it is above 0.`);
}

function checkCurrent(current: SupplyCurrent): void {
  if (current.from === 'power') {
    if (current.watts > 0 && Number.isFinite(current.watts)) return;
    throw new RangeError(`${current.watts} W was typed; the output under the tone is a number above 0.`);
  }
  const { restAmperes, toneAmperes, amperesPerDigit } = current;
  for (const amperes of [restAmperes, toneAmperes]) {
    if (!(amperes >= 0 && amperes <= MOST_AMPERES)) {
      throw new RangeError(`${amperes} A was typed; a clamp's reading here is from 0 to ${MOST_AMPERES} A.`);
    }
  }
  if (!(amperesPerDigit > 0)) {
    throw new RangeError(`A last digit of ${amperesPerDigit} A cannot be; it is above 0.`);
  }
}

function nextOf({ volts, current }: Typed): SupplyStep {
  if (volts['ground-leg'] === null) return 'ground-leg';
  if (current === null) return 'current';
  if (volts.amplifier === null) return 'amplifier';
  return volts.battery === null ? 'battery' : 'done';
}

function concluded({ task, meter, volts, current }: Typed): SupplyState {
  const typed = { task, meter, volts, current };
  const figures = supplyFigures(typed);
  const facts = { ...typed, figures, next: nextOf(typed), findings: supplyFindings({ ...typed, figures }) };
  return { ...facts, instruction: supplyInstruction(facts), acceptance: supplyAcceptance(facts) };
}

export const SUPPLY: Procedure<SupplyTask, SupplyEvent, SupplyState, SupplyResult> = {
  start: supplyStart,
  step: supplyStep,
  result: supplyResult,
};
