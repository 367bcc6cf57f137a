/** How far a station has come. Each state has its own shape and its own word, so colour is never needed. */
export type Mark = 'not-done' | 'under-way' | 'done' | 'stale' | 'out-of-tolerance';

export const MARK_WORDS: Record<Mark, string> = {
  'not-done': 'not done',
  'under-way': 'under way',
  done: 'done',
  stale: 'stale',
  'out-of-tolerance': 'out of tolerance',
};

/** For places that take text only, such as the options of a list. */
export const MARK_SIGNS: Record<Mark, string> = {
  'not-done': '○',
  'under-way': '◐',
  done: '●',
  stale: '△',
  'out-of-tolerance': '✕',
};
