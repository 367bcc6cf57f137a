import type { Job } from '../../../job/document.ts';
import { figuresOfJob } from '../../../job/verify/figures-of-job.ts';
import { moment } from '../../format/moment.ts';
import { figureWords } from './figure-words.ts';

/** What a job claims, to be looked at: every figure with what it leaves open, and when it was recorded. */
export function FigureList({ job, label }: { job: Job; label: string }) {
  const figures = figuresOfJob(job);
  if (figures.length === 0) return <p className="soft">It holds no records.</p>;
  return (
    <ul className="plainlist figure-list" aria-label={label}>
      {figures.map((figure) => (
        <li key={`${figure.key} ${figure.kind}`}>
          <span className="figure-title">{figure.title}:</span> <b>{figureWords(figure)}</b>{' '}
          <span className="small soft">{moment(figure.at)}</span>
        </li>
      ))}
    </ul>
  );
}
