import type { Job, JobChannel } from '../../../job/document.ts';
import { beforeChannel } from './before-channel.ts';

/** What to plug, probe and play for this channel. */
export function BeforeChannel({ job, channel }: { job: Job; channel: JobChannel }) {
  return (
    <ul className="plainlist before-channel small" aria-label={`Before ${channel.name.toLowerCase()}`}>
      {beforeChannel(job, channel).map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}
