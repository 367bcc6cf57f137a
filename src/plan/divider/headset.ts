import { PlanRefused, positive } from '../refused.ts';
import { HEADSET_CAUTIONS } from './cautions.ts';
import { type DividerDesign, type DividerWish, designDivider } from './design.ts';
import { parallelOhms } from './divider.ts';
import { e6AtLeast } from './preferred-values.ts';

/**
 * A phone's headset socket (four contacts) as common practice has it: the
 * microphone contact carries 2 to 3 V through about 2 kohm, and the phone
 * takes what hangs on it for a microphone when its direct-current resistance
 * is above roughly 1 kohm, for a pressed button below some 100 to 500 ohm.
 */
export const USUAL_HEADSET = {
  biasVolts: 2.5,
  biasOhms: 2200,
  leastMicrophoneOhms: 1000,
  mostButtonOhms: 500,
  /** Recognition resistor: twice the least, and near what a headset microphone draws. */
  recognitionOhms: 2200,
  provenance: 'common practice',
} as const;

/** What a phone makes of a resistance at its microphone contact. `unsure` between the two limits; phones differ. */
export function headsetRecognition(directOhms: number): 'microphone' | 'unsure' | 'button' {
  if (directOhms >= USUAL_HEADSET.leastMicrophoneOhms) return 'microphone';
  return directOhms <= USUAL_HEADSET.mostButtonOhms ? 'button' : 'unsure';
}

export interface HeadsetWish extends DividerWish {
  biasVolts: number;
  biasOhms: number;
  /** From the microphone contact to ground, ahead of the capacitor. */
  recognitionOhms: number;
}

export interface HeadsetDesign extends DividerDesign {
  recognitionOhms: number;
  /** Direct voltage that then stands at the microphone contact. */
  contactVolts: number;
  /** What the divider feeds: bias resistor, recognition resistor and input in parallel. */
  loadOhms: number;
  /** Keeps the bias out of the divider; its plus side towards the microphone contact. */
  capacitorFarads: number;
  capacitorRatedVolts: number;
  cornerHz: number;
  /** What the capacitor takes at 20 Hz, dB; below 0. */
  at20HzDb: number;
}

/** A tenth of the lowest audio frequency: costs 0.04 dB at 20 Hz. */
const HIGHEST_CORNER_HZ = 2;

const CAPACITOR_VOLTS = [6.3, 10, 16, 25, 35, 50];

/**
 * A divider for a headset socket's microphone contact: divider, then a
 * capacitor that blocks the bias, then the contact with its recognition
 * resistor to ground. `inputOhms` of the wish is that of the converter behind
 * the bias resistor.
 * @throws PlanRefused as `designDivider`, and for a recognition resistor that
 * a phone would not take for a microphone.
 */
export function designHeadsetDivider(wish: HeadsetWish): HeadsetDesign {
  const biasOhms = positive(wish.biasOhms, 'The bias resistor, in ohms,');
  const biasVolts = positive(wish.biasVolts, 'The bias, in volts,');
  const recognitionOhms = positive(wish.recognitionOhms, 'The recognition resistor, in ohms,');
  if (headsetRecognition(recognitionOhms) !== 'microphone') {
    throw new PlanRefused(
      `A recognition resistor of ${recognitionOhms} ohm may be taken for a pressed button; take ${USUAL_HEADSET.leastMicrophoneOhms} ohm or more.`,
    );
  }
  const loadOhms = parallelOhms(parallelOhms(biasOhms, recognitionOhms), wish.inputOhms);
  const design = designDivider({ ...wish, inputOhms: loadOhms });
  const loopOhms = design.sourceOhms + loadOhms;
  const capacitorFarads = e6AtLeast(1 / (2 * Math.PI * HIGHEST_CORNER_HZ * loopOhms));
  const cornerHz = 1 / (2 * Math.PI * capacitorFarads * loopOhms);
  return {
    ...design,
    recognitionOhms,
    contactVolts: (biasVolts * recognitionOhms) / (biasOhms + recognitionOhms),
    loadOhms,
    capacitorFarads,
    capacitorRatedVolts: capacitorVolts(biasVolts),
    cornerHz,
    at20HzDb: -10 * Math.log10(1 + (cornerHz / 20) ** 2),
    cautions: [...design.cautions, ...Object.values(HEADSET_CAUTIONS)],
  };
}

/** Twice the bias at least: without the recognition resistor all of it stands across the capacitor. */
function capacitorVolts(biasVolts: number): number {
  const rating = CAPACITOR_VOLTS.find((volts) => volts >= 2 * biasVolts);
  if (rating !== undefined) return rating;
  throw new PlanRefused(`A bias of ${biasVolts} V is no headset socket's; common practice is 2 to 3 V.`);
}
