import type { Job, JobChannel } from '../../../job/document.ts';
import { useGain } from '../../session/gain-session.ts';
import { beforeChannel } from './before-channel.ts';

/** What to plug, probe and play for this channel. */
export function BeforeChannel({ job, channel }: { job: Job; channel: JobChannel }) {
  const level = useGain((state) => state?.task.level ?? 'planned');
  return (
    <ul className="plainlist before-channel small" aria-label={`Before ${channel.name.toLowerCase()}`}>
      {beforeChannel(job, channel, level).map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}
