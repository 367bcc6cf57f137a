import { useState } from 'react';
import type { CalibrationStamp, Job } from '../../../job/document.ts';
import { plusMinusPercent, volts } from '../../../job/format/quantity.ts';
import { moment } from '../../format/moment.ts';
import { useObservable } from '../../live/observable.ts';
import { calibration, calibrationMatch } from '../../session/calibration.ts';
import { DividerCalibration } from './DividerCalibration.tsx';
import { MeterCalibration, type Said } from './MeterCalibration.tsx';

const BASIS_WORDS: Record<CalibrationStamp['basis'], string> = {
  multimeter: 'against a multimeter',
  divider: 'from a divider and a known input',
  assumed: 'assumed from common practice, not measured',
  'practice-rig': 'as the practice rig was built',
};

const MATCH_WORDS = {
  device: null,
  'label-and-group': null,
  label: 'Found again by its name only: if you own two of these, check it with one reading.',
};

function Known({ known }: { known: CalibrationStamp }) {
  const doubt = MATCH_WORDS[useObservable(calibrationMatch)];
  return (
    <>
      <p className="target-volts">
        {volts(known.voltsPerFs)} <span>{plusMinusPercent(known.uncertaintyDb)}</span>
      </p>
      <p className="small soft">
        for a full-scale sine, {BASIS_WORDS[known.basis]}
        {known.basis !== 'practice-rig' && <>, {moment(known.at)}</>} · {known.deviceLabel}
      </p>
      {known.basis === 'assumed' && (
        <p className="note over small">
          A setting made with it may be off by as much. Measure once with a multimeter.
        </p>
      )}
      {known.basis !== 'practice-rig' && doubt !== null && <p className="note over small">{doubt}</p>}
    </>
  );
}

/**
 * What is one volt on this input?
 *
 * @param leads whether calibrating is what the station asks for now
 */
export function CalibrationCard({
  job,
  listening,
  onRig,
  leads,
}: {
  job: Job | null;
  listening: boolean;
  onRig: boolean;
  leads: boolean;
}) {
  const known = useObservable(calibration);
  const [said, setSaid] = useState<Said | null>(null);
  return (
    <section className="sheet" aria-labelledby="calibration-title">
      <h2 id="calibration-title">Calibration</h2>
      {known !== null && <Known known={known} />}
      {/* Where it is what to do now, the station's instruction has said so. */}
      {known === null && !leads && <p>Not calibrated: levels are known in dBFS, not in volts.</p>}
      {!onRig && (
        <>
          {!listening && (
            <p className="small soft">Press Listen first: a calibration belongs to the open input.</p>
          )}
          <MeterCalibration job={job} leads={leads} say={setSaid} />
          <DividerCalibration say={setSaid} />
          <p role="status" className={said?.fault ? 'wrong small' : 'small'}>
            {said?.words}
          </p>
        </>
      )}
    </section>
  );
}
