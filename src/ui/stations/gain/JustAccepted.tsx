import type { Job } from '../../../job/document.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import { channelProgress } from '../../session/channel-progress.ts';
import type { Accepted } from './accept-reading.ts';
import { BeforeChannel } from './BeforeChannel.tsx';

/** What became of the press, and where to go on: the next channel that is not done. */
export function JustAccepted({
  said,
  job,
  channelId,
  onChannel,
}: {
  said: Accepted;
  job: Job;
  channelId: string;
  onChannel: (channelId: string) => void;
}) {
  if (said.fault !== null) {
    return (
      <p role="alert" className="wrong">
        {said.fault}
      </p>
    );
  }
  const next = job.channels.find(
    (one) => one.id !== channelId && channelProgress(job, one.id).mark !== 'done',
  );
  return (
    <div className="just-accepted" role="status">
      <p>
        <MarkSign mark="done" /> <b>{said.words}</b>
      </p>
      {next === undefined ? (
        <p>Every gain of this job is set.</p>
      ) : (
        <>
          <BeforeChannel job={job} channel={next} />
          <button type="button" className="act" onClick={() => onChannel(next.id)}>
            Next: {next.name}
          </button>
        </>
      )}
    </div>
  );
}
