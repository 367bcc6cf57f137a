import type { Job, JobAmplifier } from '../../../../job/document.ts';
import { fixed } from '../../../../job/format/number.ts';
import { JobRefused } from '../../../../job/refused.ts';
import { planJobPowerWiring } from '../../../../job/wiring-plan.ts';
import type { PowerWiringPlan } from '../../../../plan/supply/power-wiring.ts';
import { FUSE_MOST_METRES } from '../../../../plan/wire/fuse.ts';
import { sizeWords } from '../../../../plan/wire/trade-size.ts';
import { MaybeNumberField } from '../../../fields/NumberField.tsx';
import { setWiring } from './set-amplifier.ts';
import { WireRunForm } from './WireRunForm.tsx';

function planOrSentence(job: Job, amplifierId: string): PowerWiringPlan | string {
  try {
    return planJobPowerWiring(job, amplifierId);
  } catch (fault) {
    if (fault instanceof JobRefused) return fault.message;
    throw fault;
  }
}

/** Two digits are all that an efficiency from common practice deserves. */
const amperes = (value: number) => `${fixed(value, value < 10 ? 1 : 0)}\u00a0A`;

function Draw({ plan }: { plan: PowerWiringPlan }) {
  const { amperes: full, low, high } = plan.fullSine;
  return (
    <div>
      <dt>Draws</dt>
      <dd>
        <b>{amperes(full)}</b> at a full sine ({fixed(low, 0)} to {amperes(high)}),{' '}
        {amperes(plan.musicAmperes)} with loud music
      </dd>
    </div>
  );
}

function Wires({ plan, allowedVolts }: { plan: PowerWiringPlan; allowedVolts: number }) {
  const sizes = [plan.advised.awg?.name, plan.advised.metric?.name].filter((name) => name !== undefined);
  return (
    <>
      {plan.dropVolts !== null && (
        <div>
          <dt>Wires drop</dt>
          <dd>
            <b>{fixed(plan.dropVolts, 2)} V</b> of the {fixed(allowedVolts, 2)} V allowed
          </dd>
        </div>
      )}
      {plan.positive !== null && (
        <div>
          <dt>Thick enough</dt>
          <dd>{sizes.length > 0 ? <b>{sizes.join(' or ')}</b> : 'no size sold is; shorten the way'}</dd>
        </div>
      )}
    </>
  );
}

function Fuse({ plan, fuseAmps }: { plan: PowerWiringPlan; fuseAmps: number | null }) {
  const { loadAmps, wireAmps } = plan.fuse;
  return (
    <div>
      <dt>Fuse</dt>
      <dd>
        {fuseAmps === null ? 'not noted' : <b>{fuseAmps}&nbsp;A</b>}
        {loadAmps !== null && <>; the amplifier needs {loadAmps}&nbsp;A</>}
        {wireAmps !== null && <>, this wire stands {wireAmps}&nbsp;A at most</>}
      </dd>
    </div>
  );
}

function Form({ amplifier }: { amplifier: JobAmplifier }) {
  const { wiring } = amplifier;
  const set = (part: Parameters<typeof setWiring>[1]) => setWiring(amplifier.id, part);
  return (
    <div className="part-body">
      <WireRunForm
        name="Supply wire"
        run={wiring?.positive ?? null}
        usual={{ metres: 5, areaMm2: 21.15, material: 'copper' }}
        onChange={(positive) => set({ positive })}
      />
      <WireRunForm
        name="Ground wire"
        run={wiring?.ground ?? null}
        usual={{ metres: 0.5, areaMm2: wiring?.positive?.areaMm2 ?? 21.15, material: 'copper' }}
        onChange={(ground) => set({ ground })}
      />
      <div className="fields">
        <MaybeNumberField
          label="Fuse, A"
          value={wiring?.fuseAmps ?? null}
          above={0}
          most={500}
          onChange={(fuseAmps) => set({ fuseAmps })}
        />
        <MaybeNumberField
          label="Fuse to battery, m of wire"
          value={wiring?.fuseMetresFromBattery ?? null}
          least={0}
          most={20}
          onChange={(fuseMetresFromBattery) => set({ fuseMetresFromBattery })}
        />
      </div>
      <p className="small soft">
        The fuse protects the wire, not the amplifier: no larger than the wire carries for good, and within{' '}
        {FUSE_MOST_METRES} m of the battery (common practice). A cable maker’s own current goes before the one
        worked out here.
      </p>
    </div>
  );
}

function summaryWords({ wiring }: JobAmplifier): string {
  const run = wiring?.positive ?? null;
  return run === null
    ? 'Wires and fuse, not noted'
    : `Wires and fuse: ${sizeWords(run.areaMm2)}, ${run.metres}\u00a0m`;
}

/** One amplifier's supply: what it draws, what its wires drop, which fuse protects them. */
export function AmplifierWiring({ job, amplifier }: { job: Job; amplifier: JobAmplifier }) {
  const plan = planOrSentence(job, amplifier.id);
  return (
    <li className="power-one" aria-label={`Power wiring of ${amplifier.name}`}>
      <h3>{amplifier.name}</h3>
      {typeof plan === 'string' ? (
        <p className="note over">{plan}</p>
      ) : (
        <>
          <dl className="power-facts small">
            <Draw plan={plan} />
            <Wires plan={plan} allowedVolts={job.tolerances.supplyDropVolts} />
            <Fuse plan={plan} fuseAmps={amplifier.wiring?.fuseAmps ?? null} />
          </dl>
          {plan.warnings.length > 0 && (
            <ul className="plainlist small" aria-label={`Warnings for the wiring of ${amplifier.name}`}>
              {plan.warnings.map(({ kind, grave, sentence }) => (
                <li key={kind} className={grave ? 'note over' : 'note'}>
                  {sentence}
                </li>
              ))}
            </ul>
          )}
        </>
      )}
      <details className="part">
        <summary>{summaryWords(amplifier)}</summary>
        <Form amplifier={amplifier} />
      </details>
    </li>
  );
}
