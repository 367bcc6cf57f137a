import type { Job } from '../../../job/document.ts';
import { useObservable } from '../../live/observable.ts';
import { keptPart } from '../parts/kept-part.ts';
import { NoisePart } from './noise/NoisePart.tsx';
import { SupplyPart } from './supply/SupplyPart.tsx';

const PARTS = [
  { id: 'noise', name: 'Noise' },
  { id: 'supply', name: 'Supply and ground' },
] as const;

const openPart = keptPart('quiet', ['noise', 'supply']);

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
            <button key={id} type="button" aria-pressed={id === part} onClick={() => openPart.set(id)}>
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
