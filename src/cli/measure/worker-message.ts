import type { ChannelReading } from '../../dsp/reading.ts';

/** What a measuring worker posts about the task it was sent. */
export type WorkerMessage =
  | { type: 'samples'; samples: number }
  | { type: 'done'; readings: ChannelReading[] }
  /** The file cannot be used; the sentence is for the person who named it. */
  | { type: 'unusable'; sentence: string };
