import type { CheckPoint, CheckTask } from './check.ts';

/** Fixed decimals with a real minus sign, and no minus before a zero. */
export function number(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
}

/** A figure as the document gives it: so many decimals, no minus zero, `null` stays. */
export function decimals(value: number | null, count: number): number | null {
  return value === null || !Number.isFinite(value) ? null : Number(value.toFixed(count)) + 0;
}

/** A name or a sentence, as it stands within another sentence. */
export function inText(words: string): string {
  return words.charAt(0).toLowerCase() + words.slice(1);
}

/** What a person calls the point. */
export function pointName(point: CheckPoint): string {
  return point.at === 'terminals' ? point.name : 'The cabin';
}

/** Names of the job's channels that a part is for, joined; its sides' where it is for all. */
export function servedNames(task: CheckTask, serves: readonly string[], channels: string): string {
  const names = serves.map((id) => nameOf(task, id));
  if (names.length === 0) return channels === 'both' ? 'Both sides' : `The ${channels} side`;
  return names.map((name, at) => (at === 0 ? name : name.toLowerCase())).join(' and ');
}

function nameOf(task: CheckTask, id: string): string {
  const heard = task.channels.find((channel) => channel.channelId === id);
  if (heard !== undefined) return heard.name;
  const point = task.points.find((one) => one.at === 'terminals' && one.channelId === id);
  return point?.at === 'terminals' ? point.name : id;
}
