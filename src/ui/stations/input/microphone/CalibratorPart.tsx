import { useState, useSyncExternalStore } from 'react';
import { AROUND_A_CALIBRATOR } from '../../../../job/caution-words.ts';
import { dbfs } from '../../../../job/format/quantity.ts';
import {
  CALIBRATOR_CLASSES,
  type SoundCalibrator,
  type SoundScale,
  soundScale,
} from '../../../../plan/calibration/sound-scale.ts';
import { PLACEMENT_SECONDS, placementRequest } from '../../../../procedure/calibrator/placement.ts';
import { CautionList } from '../../../cautions/Cautions.tsx';
import { calibratorSession } from '../../../session/calibrator-session.ts';
import { inputChannel } from '../../../session/input-channel.ts';
import { soundScaleOfInput } from '../../../session/microphone.ts';
import { TakeAction } from '../../parts/TakeAction.tsx';
import { CalibratorForm } from './CalibratorForm.tsx';
import { soundScaleWords } from './sound-scale-words.ts';

const FIRST: SoundCalibrator = { levelDb: 94, frequencyHz: 1000, withinDb: CALIBRATOR_CLASSES[1].withinDb };

/** What the placements so far come to, and whether to keep it. */
function Placements({ calibrator }: { calibrator: SoundCalibrator }) {
  const levels = useSyncExternalStore(calibratorSession.subscribe, calibratorSession.levels);
  const [said, setSaid] = useState<string | null>(null);
  if (levels.length === 0) return <p role="status">{said === 'kept' ? 'Kept for this input.' : said}</p>;
  const scale = soundScale(calibrator, levels);
  const keep = () =>
    void soundScaleOfInput.keep({ scale }).then((fault) => {
      setSaid(fault ?? 'kept');
      if (fault === null) calibratorSession.clear();
    });
  return (
    <>
      <ol className="bullets" aria-label="Placements">
        {levels.map(({ levelDbfs }, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: placements are only ever added.
          <li key={index}>
            Placement {index + 1}: {dbfs(levelDbfs)}
          </li>
        ))}
      </ol>
      <p role="status">
        A full scale is <b>{soundScaleWords(scale.splAtFullScaleDb, scale.uncertaintyDb)}</b>.{' '}
        {levels.length === 1 &&
          'Take the calibrator off, put it on again and measure once more, to be surer.'}
      </p>
      {said !== null && said !== 'kept' && <p className="wrong small">{said}</p>}
      <div className="acts">
        <button type="button" className="act" onClick={keep}>
          Keep this scale
        </button>
        <button type="button" className="act plain" onClick={() => calibratorSession.clear()}>
          Begin again
        </button>
      </div>
    </>
  );
}

/** An acoustic calibrator on the microphone tells what a full scale is in sound pressure. */
export function CalibratorPart({
  scale,
  listening,
  onRig,
}: {
  scale: SoundScale | null;
  listening: boolean;
  onRig: boolean;
}) {
  const [calibrator, setCalibrator] = useState(FIRST);
  const change = (next: SoundCalibrator) => {
    calibratorSession.clear();
    setCalibrator(next);
  };
  return (
    <section className="microphone-part" aria-labelledby="calibrator-title">
      <h3 id="calibrator-title">Acoustic calibrator</h3>
      {scale !== null && (
        <p>
          A full-scale sine is <b>{soundScaleWords(scale.splAtFullScaleDb, scale.uncertaintyDb)}</b> at the
          microphone, by {scale.calibrator.levelDb} dB at {scale.calibrator.frequencyHz} Hz.
        </p>
      )}
      {onRig ? (
        <p className="small soft">The practice rig has no calibrator; choose a real microphone for this.</p>
      ) : (
        <>
          <CautionList cautions={AROUND_A_CALIBRATOR} />
          <CalibratorForm calibrator={calibrator} onChange={change} />
          <TakeAction
            session={calibratorSession}
            label="Measure with the calibrator on"
            main={false}
            why={listening ? null : 'Press Listen first.'}
            plan={() => ({
              signal: null,
              purpose: calibrator,
              request: placementRequest(calibrator, inputChannel.get()),
              seconds: PLACEMENT_SECONDS,
            })}
          />
          <Placements calibrator={calibrator} />
        </>
      )}
    </section>
  );
}
