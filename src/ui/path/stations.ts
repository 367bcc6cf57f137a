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

/** Stations whose page is not built yet: what each will answer, and how to get by without it. */
export const NOT_YET: Partial<Record<StationId, { question: string; meanwhile: string }>> = {
  'sign-off': {
    question:
      'This station will put plan, reading, tolerance and conditions side by side in one report that a shop can stand behind.',
    meanwhile:
      'By hand: export the job file at the Plan station; every accepted reading is in it with its conditions and can be checked again later.',
  },
};
