/** The stations on the signal path, in the order a job goes through them. */
export const STATION_IDS = [
  'plan',
  'input',
  'source',
  'gain',
  'crossover',
  'balance',
  'quiet',
  'sign-off',
] as const;

export type StationId = (typeof STATION_IDS)[number];

export const STATION_NAMES: Record<StationId, string> = {
  plan: 'Plan',
  input: 'Input',
  source: 'Source',
  gain: 'Gain',
  crossover: 'Crossover',
  balance: 'Balance',
  quiet: 'Quiet',
  'sign-off': 'Sign-off',
};
