import type { Job } from '../../../job/document.ts';
import { Instruction } from '../parts/Instruction.tsx';
import { HowManySteps } from './HowManySteps.tsx';

/** What the job lacks for this part, and where it can be typed at once, the field for it. */
export function Lacking({ job, refusal }: { job: Job; refusal: string }) {
  return (
    <div className="source-hands">
      <Instruction>{refusal}</Instruction>
      {(job.source.volumeSteps ?? 0) < 2 && <HowManySteps />}
    </div>
  );
}
