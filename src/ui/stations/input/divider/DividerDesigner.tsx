import { useMemo, useState } from 'react';
import type { Job } from '../../../../job/document.ts';
import { USUAL_INPUTS, usualFullScale, usualInput } from '../../../../plan/calibration/usual-full-scale.ts';
import { type DividerDesign, designDivider, USUAL_HEADROOM_DB } from '../../../../plan/divider/design.ts';
import { designHeadsetDivider, type HeadsetDesign, USUAL_HEADSET } from '../../../../plan/divider/headset.ts';
import { PlanRefused } from '../../../../plan/refused.ts';
import { ChoiceField } from '../../../fields/ChoiceField.tsx';
import { NumberField } from '../../../fields/NumberField.tsx';
import { planOf } from '../../../session/plan-of.ts';
import { Fold } from '../Fold.tsx';
import { DividerCircuit } from './DividerCircuit.tsx';
import { DividerFacts } from './DividerFacts.tsx';

type InputId = (typeof USUAL_INPUTS)[number]['id'];

interface Wish {
  highestVolts: number;
  input: InputId;
  legs: 1 | 2;
  tolerancePercent: 1 | 5;
  biasVolts: number;
}

/** The highest target of the job, rounded up to the next volt; a common amplifier's where there is no job. */
function highestTarget(job: Job | null): number {
  const targets = (job?.channels ?? []).flatMap((channel) => {
    const plan = job === null ? null : planOf(job, channel.id);
    return plan === null || typeof plan === 'string' || plan.targetVolts === null ? [] : [plan.targetVolts];
  });
  return targets.length === 0 ? 20 : Math.ceil(Math.max(...targets));
}

function design(wish: Wish): DividerDesign | HeadsetDesign | string {
  const input = usualInput(wish.input);
  const common = {
    highestVolts: wish.highestVolts,
    fullScaleVolts: usualFullScale(input).volts,
    inputOhms: input.inputOhms,
    inputOhmsTolerance: input.inputOhmsTolerance,
    headroomDb: USUAL_HEADROOM_DB,
    tolerancePercent: wish.tolerancePercent,
    legs: wish.legs,
  };
  try {
    if (wish.input !== 'headset-microphone') return designDivider(common);
    const { biasOhms, recognitionOhms } = USUAL_HEADSET;
    return designHeadsetDivider({ ...common, biasVolts: wish.biasVolts, biasOhms, recognitionOhms });
  } catch (fault) {
    if (fault instanceof PlanRefused) return fault.message;
    throw fault;
  }
}

function WishForm({ wish, change }: { wish: Wish; change: (part: Partial<Wish>) => void }) {
  return (
    <div className="fields">
      <NumberField
        label="Highest volts expected, RMS"
        value={wish.highestVolts}
        above={0}
        onChange={(highestVolts) => change({ highestVolts })}
      />
      <ChoiceField
        label="Input"
        value={wish.input}
        choices={USUAL_INPUTS.map((input) => ({ value: input.id, words: input.name }))}
        onChange={(input) => change({ input })}
      />
      <ChoiceField
        label="Series resistor in"
        value={wish.legs === 1 ? 'one' : 'both'}
        choices={[
          { value: 'both', words: 'both wires (if unsure)' },
          { value: 'one', words: 'one wire' },
        ]}
        onChange={(legs) => change({ legs: legs === 'one' ? 1 : 2 })}
      />
      <ChoiceField
        label="Resistors"
        value={wish.tolerancePercent === 1 ? '1' : '5'}
        choices={[
          { value: '1', words: '± 1 %' },
          { value: '5', words: '± 5 %' },
        ]}
        onChange={(tolerance) => change({ tolerancePercent: tolerance === '1' ? 1 : 5 })}
      />
      {wish.input === 'headset-microphone' && (
        <NumberField
          label="Bias at the microphone contact, V"
          value={wish.biasVolts}
          above={0}
          onChange={(biasVolts) => change({ biasVolts })}
        />
      )}
    </div>
  );
}

/** Brings speaker level down to what an input stands, with parts that shops stock. */
export function DividerDesigner({ job }: { job: Job | null }) {
  const [wish, setWish] = useState<Wish>(() => ({
    highestVolts: highestTarget(job),
    input: 'line',
    legs: 2,
    tolerancePercent: 1,
    biasVolts: USUAL_HEADSET.biasVolts,
  }));
  const made = useMemo(() => design(wish), [wish]);
  return (
    <Fold title="Divider" stands="brings speaker level down to this input" open={false}>
      <WishForm wish={wish} change={(part) => setWish({ ...wish, ...part })} />
      {typeof made === 'string' ? (
        <p className="note over">{made}</p>
      ) : (
        <>
          <DividerCircuit design={made} />
          <DividerFacts design={made} />
        </>
      )}
    </Fold>
  );
}
