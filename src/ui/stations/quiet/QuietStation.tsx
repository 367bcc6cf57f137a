import type { Job } from '../../../job/document.ts';
import { observable, useObservable } from '../../live/observable.ts';
import { NoisePart } from './noise/NoisePart.tsx';
import { SupplyPart } from './supply/SupplyPart.tsx';

const PARTS = [
  { id: 'noise', name: 'Noise' },
  { id: 'supply', name: 'Supply and ground' },
] as const;

type PartId = (typeof PARTS)[number]['id'];

const KEY = 'kneepoint-quiet-part';

/** Coming back, or a reload, finds the part that was left. */
const openPart = observable<PartId>(sessionStorage.getItem(KEY) === 'supply' ? 'supply' : 'noise');

function open(part: PartId): void {
  sessionStorage.setItem(KEY, part);
  openPart.set(part);
}

/** Noise floor, engine, supply and ground. */
export function QuietStation({
  job,
  channelId,
  onChannel,
}: {
  job: Job;
  channelId: string | null;
  onChannel: (channelId: string) => void;
}) {
  const part = useObservable(openPart);
  return (
    <div className="station snug">
      <div className="station-head">
        <h1>Quiet</h1>
        <fieldset className="part-tabs" aria-label="Parts of this station">
          {PARTS.map(({ id, name }) => (
            <button key={id} type="button" aria-pressed={id === part} onClick={() => open(id)}>
              {name}
            </button>
          ))}
        </fieldset>
      </div>
      {part === 'noise' ? (
        <NoisePart job={job} channelId={channelId} onChannel={onChannel} />
      ) : (
        <SupplyPart job={job} />
      )}
    </div>
  );
}
