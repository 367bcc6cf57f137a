/** The practice rig in the address: `?rig=demo`, with `&fault=a,b` for what is wrong with it and `&pace=4` to wait less. */
import { RIG_FAULTS, type RigFaultId } from '../../rig/faults.ts';

/** A machine of two cores makes the samples of a wire some 20 times as fast as a vehicle, and has a page to draw beside. */
const HIGHEST_PACE = 8;

export interface RigAddress {
  isDemo: boolean;
  faults: readonly RigFaultId[];
  /** Why a fault of the address is not practised, one sentence. */
  trouble: string | null;
  /** How many times as fast as a vehicle the rig runs. */
  pace: number;
}

export function readRigAddress(search: string): RigAddress {
  const query = new URLSearchParams(search);
  const asked = (query.get('fault') ?? '').split(',').filter((id) => id !== '');
  const faults = RIG_FAULTS.map((fault) => fault.id).filter((id) => asked.includes(id));
  const unknown = asked.filter((id) => !faults.some((fault) => fault === id));
  const known = RIG_FAULTS.map((fault) => fault.id).join(', ');
  const trouble =
    unknown.length === 0
      ? null
      : `The address asks for a fault "${unknown.join(', ')}" that the practice rig cannot have: it knows ${known}.`;
  const pace = readPace(query.get('pace'));
  return { isDemo: query.get('rig') === 'demo', faults, trouble: trouble ?? pace.trouble, pace: pace.times };
}

function readPace(text: string | null): { times: number; trouble: string | null } {
  const times = text === null ? 1 : Number(text);
  if (times >= 1 && times <= HIGHEST_PACE) return { times, trouble: null };
  const trouble = `The address asks for a pace of "${text}"; it must be a number from 1 to ${HIGHEST_PACE}.`;
  return { times: 1, trouble };
}

/** The same address with other faults in it. */
function rigSearch(faults: readonly RigFaultId[]): string {
  const pace = new URLSearchParams(location.search).get('pace');
  const faulty = faults.length === 0 ? '' : `&fault=${faults.join(',')}`;
  return `?rig=demo${faulty}${pace === null ? '' : `&pace=${pace}`}`;
}

/** Keeps what is practised in the address, so that a reload finds the same vehicle. */
export function keepRigAddress(faults: readonly RigFaultId[]): void {
  history.replaceState(null, '', rigSearch(faults) + location.hash);
}
