import type { Job } from '../../../../job/document.ts';
import { ChoiceField } from '../../../fields/ChoiceField.tsx';

/** For each channel of a recording: where its lead or microphone is. */
export function PointFields({
  job,
  count,
  at,
  onChange,
}: {
  job: Job;
  count: number;
  at: readonly string[];
  onChange: (at: string[]) => void;
}) {
  const choices = [
    { value: 'cabin', words: 'the cabin, by microphone' },
    ...job.channels.map(({ id, name }) => ({ value: id, words: `${name}, its terminals` })),
    ...(count > 1 ? [{ value: 'none', words: 'nothing: not connected' }] : []),
  ];
  const points = pointsFor(at, count);
  return (
    <div className="fields">
      {points.map((point, channel) => (
        <ChoiceField
          // biome-ignore lint/suspicious/noArrayIndexKey: a channel is its place.
          key={channel}
          label={count === 1 ? 'The input is at' : `Input channel ${channel + 1} is at`}
          value={point}
          choices={choices}
          onChange={(next) => onChange(points.map((old, place) => (place === channel ? next : old)))}
        />
      ))}
    </div>
  );
}

/** As many points as there are channels; a microphone where nothing was said. */
export function pointsFor(at: readonly string[], count: number): string[] {
  return Array.from({ length: count }, (_, channel) => at[channel] ?? 'cabin');
}
