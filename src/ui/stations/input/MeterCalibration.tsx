import { type FormEvent, useState } from 'react';
import type { Job } from '../../../job/document.ts';
import { calibrateByMeter } from '../../../plan/calibration/volts-per-full-scale.ts';
import { PlanRefused } from '../../../plan/refused.ts';
import { NumberField } from '../../fields/NumberField.tsx';
import { readNumber } from '../../format/read-number.ts';
import { keepCalibration } from '../../session/calibration.ts';
import { heardNow, latestReading } from '../../session/heard.ts';
import { CalibrationTone } from './CalibrationTone.tsx';

/** How an attempt to calibrate went. */
export interface Said {
  fault: boolean;
  words: string;
}

/** One count of the last digit, from the figure as typed: 0.01 V where the meter shows 12.34. */
function lastDigitVolts(typed: string): number {
  const decimals = /[.,](\d*)/.exec(typed.trim())?.[1]?.length ?? 0;
  return 10 ** -decimals;
}

/** Takes the level at this moment; says why not where it cannot be taken. */
async function calibrate(typed: string, percentOfReading: number, digits: number): Promise<string | null> {
  const meterVolts = readNumber(typed);
  if (meterVolts === null)
    return `“${typed}” is not a voltage; type what the multimeter shows, such as 2.834.`;
  const reading = latestReading();
  const tone = heardNow()?.channel.tone ?? null;
  if (reading === null) return 'Press Listen first, so that there is a level to compare with.';
  if (reading.grade === 'invalid') return 'The reading is not valid at the moment: see its doubts.';
  if (tone === null) return 'No steady tone is heard: play one and keep it still.';
  if (reading.motion !== 'steady') return 'The level is still moving; let it rest for a second.';
  try {
    const scale = calibrateByMeter({
      meterVolts,
      meter: { percentOfReading, digits, voltsPerDigit: lastDigitVolts(typed) },
      levelDbfs: tone.levelDbfs,
      levelUncertaintyDb: tone.uncertainty.levelDb,
    });
    return await keepCalibration(scale);
  } catch (fault) {
    if (fault instanceof PlanRefused) return fault.message;
    throw fault;
  }
}

/**
 * A steady tone, read by the meter and by the input at once.
 *
 * @param leads whether calibrating is what the station asks for now
 */
export function MeterCalibration({
  job,
  leads,
  say,
}: {
  job: Job | null;
  leads: boolean;
  say: (said: Said) => void;
}) {
  const [typed, setTyped] = useState('');
  const [percent, setPercent] = useState(1);
  const [digits, setDigits] = useState(3);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    void calibrate(typed, percent, digits).then((fault) =>
      say(fault === null ? { fault: false, words: 'Kept for this input.' } : { fault: true, words: fault }),
    );
  };
  return (
    <details open={leads}>
      <summary>
        <b>Against a multimeter</b>
      </summary>
      <form className="column" onSubmit={submit}>
        <p className="small soft">
          Play a steady tone of 40 to 1000 Hz, measure it with the multimeter (AC) at the point where the
          input is connected, ahead of any divider, and type what it shows while the tone plays.
        </p>
        <CalibrationTone job={job} />
        <label className="field">
          The multimeter shows, V
          <input
            inputMode="decimal"
            autoComplete="off"
            value={typed}
            onChange={(event) => setTyped(event.target.value)}
          />
        </label>
        <div className="acts">
          <button type="submit" className={leads ? 'act main' : 'act'}>
            Calibrate with these volts
          </button>
        </div>
        <details>
          <summary>{`Accuracy of the multimeter: ±${percent} % of reading, ±${digits} digits`}</summary>
          <div className="fields fold-body">
            <NumberField label="± % of reading" value={percent} least={0} onChange={setPercent} />
            <NumberField label="± digits" value={digits} least={0} whole onChange={setDigits} />
          </div>
        </details>
      </form>
    </details>
  );
}
