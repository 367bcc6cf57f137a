/** The practice rig in the address: `?rig=demo`, with `&fault=a,b` for what is wrong with it. */
import { RIG_FAULTS, type RigFaultId } from '../../rig/faults.ts';

export interface RigAddress {
  isDemo: boolean;
  faults: readonly RigFaultId[];
  /** Why a fault of the address is not practised, one sentence. */
  trouble: string | null;
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
  return { isDemo: query.get('rig') === 'demo', faults, trouble };
}

/** The same address with other faults in it. */
function rigSearch(faults: readonly RigFaultId[]): string {
  return faults.length === 0 ? '?rig=demo' : `?rig=demo&fault=${faults.join(',')}`;
}

/** Keeps what is practised in the address, so that a reload finds the same vehicle. */
export function keepRigAddress(faults: readonly RigFaultId[]): void {
  history.replaceState(null, '', rigSearch(faults) + location.hash);
}
