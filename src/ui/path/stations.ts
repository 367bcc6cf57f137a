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
  quiet: {
    question:
      'This station will measure the noise floor, tell alternator ripple from mains hum, and find the poor ground behind a voltage drop.',
    meanwhile:
      'By hand: listen with the source muted, engine off and then on, in open air; measure direct voltage between battery and amplifier, on the positive and on the ground side, while a tone plays.',
  },
  'sign-off': {
    question:
      'This station will put plan, reading, tolerance and conditions side by side in one report that a shop can stand behind.',
    meanwhile:
      'By hand: export the job file at the Plan station; every accepted reading is in it with its conditions and can be checked again later.',
  },
};
