import type { Job } from '../../../../job/document.ts';
import {
  LONGEST_SILENCE_SECONDS,
  RUN_CONTENT_WORDS,
  RUN_CONTENTS,
  type RunOptions,
  SHORTEST_SILENCE_SECONDS,
} from '../../../../job/run-track/options.ts';
import { ChoiceField, TickField } from '../../../fields/ChoiceField.tsx';
import { NumberField } from '../../../fields/NumberField.tsx';
import type { RunFileKind } from '../../../session/run-track-zip.ts';
import { contentSeconds, lengthWords, withContent } from './run-length.ts';

const SIDES: readonly { value: RunOptions['sides']; words: string }[] = [
  { value: 'each', words: 'One after the other' },
  { value: 'together', words: 'Both at once' },
];

const KINDS: readonly { value: RunFileKind; words: string }[] = [
  { value: 'wav', words: 'WAV' },
  { value: 'flac', words: 'FLAC, smaller' },
];

/** What a run track holds, and how it plays. */
export function RunChoices({
  job,
  options,
  kind,
  onOptions,
  onKind,
}: {
  job: Job;
  options: RunOptions;
  kind: RunFileKind;
  onOptions: (change: Partial<RunOptions>) => void;
  onKind: (kind: RunFileKind) => void;
}) {
  return (
    <div className="run-choices">
      <fieldset>
        <legend className="small soft">It shows</legend>
        {RUN_CONTENTS.map((content) => (
          <TickField
            key={content}
            label={`${RUN_CONTENT_WORDS[content]}, ${lengthWords(contentSeconds(job, options, content))}`}
            value={options.contents.includes(content)}
            onChange={(on) => onOptions({ contents: withContent(options, content, on) })}
          />
        ))}
      </fieldset>
      <div className="fields">
        <ChoiceField
          label="Left and right"
          value={options.sides}
          choices={SIDES}
          onChange={(sides) => onOptions({ sides })}
        />
        <NumberField
          label="Silence for the noise floor, s"
          value={options.silenceSeconds}
          least={SHORTEST_SILENCE_SECONDS}
          most={LONGEST_SILENCE_SECONDS}
          onChange={(silenceSeconds) => onOptions({ silenceSeconds })}
        />
        <ChoiceField label="File" value={kind} choices={KINDS} onChange={onKind} />
      </div>
      <p className="small soft">
        A microphone in the cabin tells left from right only where they play one after the other; at the
        terminals of a channel both may play at once.
      </p>
    </div>
  );
}
