/** Who signed what and when, with the hash, and what a hash proves. */
import type { Job, SignOff } from '../document.ts';
import { signOffStanding } from '../sign-off/sign-off-standing.ts';
import { moment } from './figures.ts';
import type { ReportBlock, ReportSection } from './model.ts';
import { factsOf, note, tableOf } from './parts.ts';

const WHAT_A_HASH_PROVES =
  'The SHA-256 is worked out over everything that was signed. It shows that the file was not changed by accident or by hand since; it is no signature, and does not prove who signed.';

function signedFacts(signOff: SignOff): ReportBlock[] {
  return [
    factsOf([
      ['Signed by', signOff.signedBy],
      ['Signed on', moment(signOff.at)],
      ['Note', signOff.note === '' ? 'none' : signOff.note],
      ['Sign-off', signOff.id],
      ['SHA-256', signOff.sha256],
    ]),
    note(WHAT_A_HASH_PROVES),
  ];
}

function standingNote(job: Job): ReportBlock {
  const found = signOffStanding(job);
  if (found.standing === 'none') return note('This job has not been signed off.', 'grave');
  if (found.standing === 'current') return note('Nothing has changed since the newest sign-off.');
  return note(`The newest sign-off does not speak for all of this report. ${found.why}`, 'grave');
}

/** Of the job as it is: its newest sign-off, the earlier ones, and room to sign on paper. */
export function signOffSection(job: Job): ReportSection {
  const newest = job.signOffs.at(-1);
  const earlier = job.signOffs.slice(0, -1).toReversed();
  return {
    id: 'sign-off',
    heading: 'Sign-off',
    blocks: [
      standingNote(job),
      ...(newest === undefined ? [] : signedFacts(newest)),
      ...tableOf(
        'Earlier sign-offs',
        ['Signed by', '@Signed on', 'Note', 'SHA-256'],
        earlier.map(({ signedBy, at, note: said, sha256 }) => [signedBy, moment(at), said, sha256]),
      ),
      { type: 'pen', lines: ['Name', 'Date', 'Signature'] },
    ],
  };
}

/** Of a report that shows the job as it was signed. */
export function signedSection(signOff: SignOff): ReportSection {
  return {
    id: 'sign-off',
    heading: 'Sign-off',
    blocks: [
      note('This report shows the job as it was signed, whatever was changed in it later.'),
      ...signedFacts(signOff),
      { type: 'pen', lines: ['Name', 'Date', 'Signature'] },
    ],
  };
}
