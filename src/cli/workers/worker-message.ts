/** What a worker posts about the task it was sent. */
export type WorkerMessage<Result> =
  /** How much more is done, in the units that the whole is counted in. */
  | { type: 'done-more'; amount: number }
  | { type: 'done'; result: Result }
  /** The file cannot be used; the sentence is for the person who named it. */
  | { type: 'unusable'; sentence: string };
