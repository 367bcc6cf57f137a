import type { Job } from '../../../job/document.ts';
import { SupplyPart } from './supply/SupplyPart.tsx';

/** Noise floor, engine, supply and ground. */
export function QuietStation({ job }: { job: Job }) {
  return (
    <div className="station quiet">
      <h1>Quiet</h1>
      <SupplyPart job={job} />
    </div>
  );
}
