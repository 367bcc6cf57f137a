import { useMemo, useState } from 'react';
import type { StoredMicrophone } from '../../../../job/store/job-store.ts';
import { type FileMeaning, microphoneCurve } from '../../../../plan/calibration/microphone-curve.ts';
import { type MicrophoneFile, readMicrophoneFile } from '../../../../plan/calibration/microphone-file.ts';
import { PlanRefused } from '../../../../plan/refused.ts';
import { LineChart } from '../../../chart/LineChart.tsx';
import { ChoiceField } from '../../../fields/ChoiceField.tsx';
import { microphone } from '../../../session/microphone.ts';
import { curveView, curveWords } from './curve-view.ts';

type InUse = NonNullable<StoredMicrophone['file']>;
type Said = { fault: boolean; words: string } | null;

const MEANINGS = [
  { value: 'reads-high', words: 'how much it reads high (usual)' },
  { value: 'to-be-added', words: 'what is to be added' },
] as const;

/** What was left out of the file while it was read. */
function passedOver({ header, hasFurtherColumns }: MicrophoneFile): string {
  const parts = [
    header === null ? null : `its first line of words, “${header.replace(/\s+/g, ' ').slice(0, 60)}”`,
    hasFurtherColumns ? 'the columns beyond the second' : null,
  ].filter((part) => part !== null);
  return parts.length === 0 ? '' : ` Passed over: ${parts.join(', and ')}.`;
}

async function keepFile(chosen: File): Promise<Said> {
  try {
    const read = readMicrophoneFile(await chosen.text());
    const file: InUse = { name: chosen.name, meaning: 'reads-high', points: read.points };
    const fault = await microphone.keep({ file });
    if (fault !== null) return { fault: true, words: fault };
    return { fault: false, words: `Kept for this input: ${read.points.length} points.${passedOver(read)}` };
  } catch (fault) {
    if (fault instanceof PlanRefused) return { fault: true, words: `${chosen.name}: ${fault.message}` };
    throw fault;
  }
}

function Curve({ file }: { file: InUse }) {
  const curve = useMemo(() => microphoneCurve(file.points, file.meaning), [file]);
  const view = useMemo(() => curveView(curve), [curve]);
  return <LineChart view={view} words={curveWords(curve)} />;
}

/** The microphone's calibration file: taken in, shown, turned over, or done without. */
export function FilePart({
  file,
  listening,
  onRig,
}: {
  file: InUse | null;
  listening: boolean;
  onRig: boolean;
}) {
  const [said, setSaid] = useState<Said>(null);
  const show = (work: Promise<Said>) =>
    void work
      .catch((fault: unknown) => setSaid({ fault: true, words: String(fault) }))
      .then((next) => {
        if (next) setSaid(next);
      });
  const keep = (next: InUse | null, words: string) =>
    show(
      microphone
        .keep({ file: next })
        .then((fault) => (fault === null ? { fault: false, words } : { fault: true, words: fault })),
    );
  return (
    <section className="microphone-part" aria-labelledby="microphone-file-title">
      <h3 id="microphone-file-title">Calibration file{file !== null && <>: {file.name}</>}</h3>
      {file !== null && (
        <>
          <Curve file={file} />
          <ChoiceField<FileMeaning>
            label="Its second column holds"
            value={file.meaning}
            choices={MEANINGS}
            onChange={(meaning) => keep({ ...file, meaning }, 'Kept the other way up.')}
          />
          <p className="small soft">
            {file.meaning === 'reads-high'
              ? 'Usual: +2 dB in the file means that the microphone reads 2 dB high, so 2 dB are subtracted.'
              : '+2 dB in the file means that the microphone reads 2 dB low, so 2 dB are added.'}
          </p>
        </>
      )}
      <label className="field">
        {file === null ? 'Text file of two columns, Hz and dB' : 'Another file, in its place'}
        <input
          type="file"
          accept=".txt,.cal,.csv,.frd,.dat,text/plain,text/csv"
          disabled={!listening || onRig}
          onChange={(event) => {
            const chosen = event.target.files?.[0];
            event.target.value = '';
            if (chosen !== undefined) show(keepFile(chosen));
          }}
        />
      </label>
      {onRig && (
        <p className="small soft">The practice rig’s microphone reads true; a file belongs to a real one.</p>
      )}
      {!listening && <p className="small soft">Press Listen first: the file belongs to the open input.</p>}
      {file !== null && (
        <div className="acts">
          <button
            type="button"
            className="act"
            onClick={() => keep(null, 'Used without a file from now on.')}
          >
            Use no file
          </button>
        </div>
      )}
      <p role="status" className={said?.fault ? 'wrong small' : 'small'}>
        {said?.words}
      </p>
    </section>
  );
}
