import type { Job } from '../../../job/document.ts';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { pickup } from '../../session/source-sessions.ts';
import { usePickup } from './use-pickup.ts';

const SIDES = [
  { value: 'left', words: 'left side' },
  { value: 'right', words: 'right side' },
] as const;

const POINT_NOTES = {
  'speaker-level': 'Speaker level: only through a divider that floats; the Input station designs one.',
  'line-level': 'Line level: mind the headroom in the strip below all the same.',
  converter:
    'Line level, but some converters put out more than an input takes: mind the headroom in the strip below. What clips here may be the converter.',
};

/** Where the input is connected: said on screen, since a divider and the blame depend on it. */
export function PickupChoice({
  job,
  withPoint,
  withSide,
}: {
  job: Job;
  withPoint: boolean;
  withSide: boolean;
}) {
  const at = usePickup(job);
  const points = [
    {
      value: 'radio',
      words: job.source.pickup === 'speaker-level' ? 'radio’s speaker output' : 'radio’s output',
    },
    ...(job.converter === null ? [] : [{ value: 'converter', words: 'converter’s output' } as const]),
  ] as const;
  return (
    <>
      <div className="fields">
        {withPoint && (
          <ChoiceField
            label="The input is at the"
            value={at.point}
            choices={points}
            onChange={(point) => pickup.set({ ...at, point })}
          />
        )}
        {withSide && (
          <ChoiceField
            label={withPoint ? 'on the' : 'Measured on the'}
            value={at.side}
            choices={SIDES}
            onChange={(side) => pickup.set({ ...at, side })}
          />
        )}
      </div>
      {withPoint && (
        <p className="small soft">{POINT_NOTES[at.point === 'radio' ? job.source.pickup : at.point]}</p>
      )}
    </>
  );
}
