import type { LevelTask } from './level.ts';

/** Fixed decimals with a real minus sign, and no minus before a zero. */
export function number(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
}

export function nameOf(task: LevelTask, channelId: string): string {
  return task.channels.find((channel) => channel.channelId === channelId)?.name ?? channelId;
}
