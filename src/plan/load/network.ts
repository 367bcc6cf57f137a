import { PlanRefused, positive } from '../refused.ts';

/** Coils joined in series and in parallel, to any depth. Impedances are nominal and taken as resistive. */
export type Network =
  | { kind: 'coil'; ohms: number }
  | { kind: 'series'; parts: Network[] }
  | { kind: 'parallel'; parts: Network[] };

/**
 * Net load of a network, ohms: the sum in series, 1 / sum of 1/R in parallel (Ohm's law).
 * @throws PlanRefused for a coil that is not above 0 ohm, and for a joint of no parts.
 */
export function netLoadOhms(network: Network): number {
  if (network.kind === 'coil') return positive(network.ohms, 'A coil, in ohms,');
  if (network.parts.length === 0) {
    throw new PlanRefused(`A ${network.kind} joint has no parts; it needs at least one coil.`);
  }
  const loads = network.parts.map(netLoadOhms);
  if (network.kind === 'series') return loads.reduce((sum, ohms) => sum + ohms, 0);
  return 1 / loads.reduce((sum, ohms) => sum + 1 / ohms, 0);
}

/**
 * Share of the network's power that each coil takes, in the order the coils
 * are written; the shares sum to 1. In series one current flows, so power goes
 * as R; in parallel one voltage stands, so it goes as 1/R.
 * @throws PlanRefused as {@link netLoadOhms}.
 */
export function coilPowerShares(network: Network): number[] {
  const wholeOhms = netLoadOhms(network);
  if (network.kind === 'coil') return [1];
  return network.parts.flatMap((part) => {
    const partOhms = netLoadOhms(part);
    const partShare = network.kind === 'series' ? partOhms / wholeOhms : wholeOhms / partOhms;
    return coilPowerShares(part).map((share) => share * partShare);
  });
}
