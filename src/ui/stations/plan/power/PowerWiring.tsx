import type { Job } from '../../../../job/document.ts';
import { MOST_TOLERATED, TOLERANCE_REASONS } from '../../../../job/tolerances.ts';
import { NumberField } from '../../../fields/NumberField.tsx';
import { AmplifierWiring } from './AmplifierWiring.tsx';
import './power.css';
import { setTolerances } from './set-amplifier.ts';

/** From the battery to each amplifier: current, gauge, drop and fuse. */
export function PowerWiring({ job }: { job: Job }) {
  return (
    <section className="sheet power" aria-labelledby="power-title">
      <h2 id="power-title">Power wiring</h2>
      <p className="small">
        Works out what each amplifier draws, and whether wires and fuse suit it. You need the length and size
        of its wires and the rating of its fuse.
      </p>
      <ul className="plainlist">
        {job.amplifiers.map((amplifier) => (
          <AmplifierWiring key={amplifier.id} job={job} amplifier={amplifier} />
        ))}
      </ul>
      <div className="fields">
        <NumberField
          label="Drop allowed on both wires, V"
          value={job.tolerances.supplyDropVolts}
          above={0}
          most={MOST_TOLERATED.supplyDropVolts}
          onChange={(supplyDropVolts) => setTolerances({ supplyDropVolts })}
        />
        <NumberField
          label="Drop allowed on the ground leg, V"
          value={job.tolerances.groundVolts}
          above={0}
          most={MOST_TOLERATED.groundVolts}
          onChange={(groundVolts) => setTolerances({ groundVolts })}
        />
      </div>
      <p className="small soft">
        {TOLERANCE_REASONS.supplyDropVolts} {TOLERANCE_REASONS.groundVolts}
      </p>
    </section>
  );
}
