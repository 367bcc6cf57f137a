import type { Job } from '../../../job/document.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import { channelProgress } from '../../session/channel-progress.ts';
import { useFocusHere } from '../parts/focus-here.ts';
import { BeforeChannel } from './BeforeChannel.tsx';

/** What became of the press, and where to go on: the next channel that is not done, and what it needs. */
export function JustAccepted({
  words,
  job,
  channelId,
  onChannel,
  onAgain,
}: {
  words: string;
  job: Job;
  channelId: string;
  onChannel: (channelId: string) => void;
  /** Goes on with this channel. */
  onAgain: () => void;
}) {
  const here = useFocusHere<HTMLElement>();
  const next = job.channels.find(
    (one) => one.id !== channelId && channelProgress(job, one.id).mark !== 'done',
  );
  return (
    <section ref={here} tabIndex={-1} className="sheet just-accepted" aria-label="Recorded">
      <p role="status">
        <MarkSign mark="done" /> <b>{words}</b> {next === undefined && 'Every gain of this job is set.'}
      </p>
      {next !== undefined && (
        <>
          <button type="button" className="act main big" onClick={() => onChannel(next.id)}>
            Next: {next.name}
          </button>
          <BeforeChannel job={job} channel={next} />
        </>
      )}
      <button type="button" className="act plain" onClick={onAgain}>
        Go on with this channel
      </button>
    </section>
  );
}
