import type { EngineState } from '../../../audio/engine/engine-state.ts';
import type { CalibrationStamp } from '../../../job/document.ts';
import { moment, plusMinusPercent, volts } from '../../format/quantity.ts';
import { useObservable } from '../../live/observable.ts';
import { calibration, calibrationMatch } from '../../session/calibration.ts';
import { inputIdentity } from '../../session/input-identity.ts';
import { DividerCalibration } from './DividerCalibration.tsx';
import { MeterCalibration } from './MeterCalibration.tsx';

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

/** What is one volt on this input? */
export function CalibrationCard({ state }: { state: EngineState }) {
  const known = useObservable(calibration);
  const onRig = inputIdentity(state) !== null && state.source?.kind === 'rig';
  return (
    <section className="sheet" aria-labelledby="calibration-title">
      <h2 id="calibration-title">Calibration</h2>
      {known === null ? (
        <p>Not calibrated: levels are known in dBFS, not in volts.</p>
      ) : (
        <Known known={known} />
      )}
      {!onRig && (
        <>
          <MeterCalibration />
          <DividerCalibration />
        </>
      )}
    </section>
  );
}
