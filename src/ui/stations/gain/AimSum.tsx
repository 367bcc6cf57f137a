import { useGain } from '../../session/gain-session.ts';
import { aimSum } from './aim-sum.ts';

/** What is aimed at with this tone, and why. */
export function AimSum() {
  const words = useGain((state) => (state === null ? '' : aimSum(state.task)));
  return words === '' ? null : <p className="small soft aim-sum">{words}</p>;
}
