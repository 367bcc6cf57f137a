/** From the source to the amplifiers' inputs: what must be right before any gain is set. */
import { figure } from '../figures.ts';
import { dbToRatio } from '../units/ratio.ts';
import { type LoadResistors, RATING_ROOM, resistorHeatWatts } from './load-resistors.ts';

export interface Pickup {
  at: 'speaker-level' | 'line-level';
  loadResistors: LoadResistors | null;
  /** Highest voltage at the pickup, volts RMS of a sine; `null` while nobody knows it. */
  highestVolts: number | null;
  converter: {
    highestInputVolts: number | null;
    /** Output against input; `null` where adjustable or unknown. */
    ratioDb: number | null;
    turnOn: 'remote-wire' | 'sensing' | 'unknown';
  } | null;
}

type PickupWarningKind =
  | 'load-resistors-missing'
  | 'load-resistors-too-weak'
  | 'load-resistors-unjudged'
  | 'load-resistors-needless'
  | 'converter-missing'
  | 'converter-input-exceeded'
  | 'converter-input-unjudged'
  | 'converter-sleeps';

export interface PickupWarning {
  kind: PickupWarningKind;
  at: 'source' | 'converter';
  /** True where the chain must not be used so; false where it is only to be kept in mind. */
  grave: boolean;
  /** One sentence: what, and what follows from it. */
  sentence: string;
}

type Said = Omit<PickupWarning, 'kind' | 'at'>;

function missing({ at, loadResistors }: Pickup): Said | null {
  if (at !== 'speaker-level' || loadResistors !== null) return null;
  return {
    grave: true,
    sentence:
      'No load resistors are noted: without its speakers a radio may mute, cut bass or report a fault; fit what its maker asks for.',
  };
}

function tooWeak({ loadResistors, highestVolts }: Pickup): Said | null {
  if (loadResistors === null || highestVolts === null) return null;
  const heat = resistorHeatWatts(highestVolts, loadResistors.ohms);
  if (loadResistors.watts >= RATING_ROOM * heat) return null;
  return {
    grave: loadResistors.watts < heat,
    sentence: `At ${figure(highestVolts)} V each load resistor of ${figure(loadResistors.ohms)} ohm bears ${figure(heat, 3)} W and is rated for ${figure(loadResistors.watts)} W: take ones for ${figure(RATING_ROOM * heat, 2)} W or more, and mount them where they may get hot.`,
  };
}

function unjudged({ loadResistors, highestVolts }: Pickup): Said | null {
  if (loadResistors === null || highestVolts !== null) return null;
  return {
    grave: false,
    sentence:
      'What each load resistor must bear is V²/R at the radio’s highest voltage, which is not noted: see its maker, or measure it at the Source station and note it here.',
  };
}

function needless({ at, loadResistors }: Pickup): Said | null {
  if (at !== 'line-level' || loadResistors === null) return null;
  return {
    grave: false,
    sentence: 'A line-level output needs no load resistors; they would only load it down.',
  };
}

function withoutConverter({ at, converter }: Pickup): Said | null {
  if (at !== 'speaker-level' || converter !== null) return null;
  return {
    grave: false,
    sentence:
      'Speaker level goes to the amplifiers without a converter: use only inputs that their maker allows speaker level on.',
  };
}

function inputExceeded({ highestVolts, converter }: Pickup): Said | null {
  const most = converter?.highestInputVolts ?? null;
  if (highestVolts === null || most === null || highestVolts <= most) return null;
  return {
    grave: true,
    sentence: `The source gives up to ${figure(highestVolts)} V and the converter takes ${figure(most)} V: it clips before the source does, so take one for more, or stay below that volume.`,
  };
}

function inputUnjudged({ at, highestVolts, converter }: Pickup): Said | null {
  if (at !== 'speaker-level' || converter === null) return null;
  if (highestVolts !== null && converter.highestInputVolts !== null) return null;
  const lacking =
    highestVolts === null ? 'the source’s highest voltage is' : 'the converter’s highest input is';
  return {
    grave: false,
    sentence: `Whether the converter can take the source’s level cannot be said while ${lacking} not noted.`,
  };
}

function sleeps({ converter }: Pickup): Said | null {
  if (converter?.turnOn !== 'sensing') return null;
  return {
    grave: false,
    sentence:
      'A converter that wakes by sensing may cut the start of a tone and fall asleep in silence: let a tone run for some seconds before reading it.',
  };
}

const RULES: readonly [PickupWarningKind, PickupWarning['at'], (pickup: Pickup) => Said | null][] = [
  ['load-resistors-missing', 'source', missing],
  ['load-resistors-too-weak', 'source', tooWeak],
  ['load-resistors-unjudged', 'source', unjudged],
  ['load-resistors-needless', 'source', needless],
  ['converter-missing', 'source', withoutConverter],
  ['converter-input-exceeded', 'converter', inputExceeded],
  ['converter-input-unjudged', 'converter', inputUnjudged],
  ['converter-sleeps', 'converter', sleeps],
];

/**
 * Everything to be said of the way from source to amplifiers, common practice throughout; figures by Ohm's law.
 * @throws PlanRefused for figures that are not above 0
 */
export function pickupWarnings(pickup: Pickup): PickupWarning[] {
  return RULES.flatMap(([kind, at, rule]) => {
    const said = rule(pickup);
    return said === null ? [] : [{ kind, at, ...said }];
  });
}

/** Most that can reach the amplifiers' inputs, volts RMS; `null` where a figure for it is lacking. */
export function highestLineVolts({ highestVolts, converter }: Pickup): number | null {
  if (highestVolts === null) return null;
  if (converter === null) return highestVolts;
  return converter.ratioDb === null ? null : highestVolts * dbToRatio(converter.ratioDb);
}
