import { FUSE_RATINGS_AMPS, largestFuseAmps, smallestFuseAmps } from '../wire/fuse.ts';
import { nextThicker, type SizeSystem, type TradeSize } from '../wire/trade-size.ts';
import { areaForDrop, runOhms, type WireRun } from '../wire/wire-run.ts';
import { type AmplifierClass, type Draw, drawAmperes, MUSIC_SHARE } from './draw.ts';
import { type WiringWarning, wiringWarnings } from './wiring-warnings.ts';

/** Supply of one amplifier as it was wired, or will be. */
export interface PowerWiring {
  /** All channels driven to their clean power at the wired loads. */
  outputWatts: number;
  /** `null` where nobody has noted it: class AB is taken, which draws more. */
  stage: AmplifierClass | null;
  supplyVolts: number;
  positive: WireRun | null;
  ground: WireRun | null;
  fuseAmps: number | null;
  fuseMetresFromBattery: number | null;
  /** On both legs together, at the current of a full sine. */
  allowedDropVolts: number;
}

export interface LegFigures {
  ohms: number;
  /** At the current of a full sine, the wire alone, 20 °C. */
  dropVolts: number;
}

export interface PowerWiringPlan {
  stage: AmplifierClass;
  /** All channels at a sine of their clean power. */
  fullSine: Draw;
  /** Long-term average of loud music: an eighth of the power. */
  musicAmperes: number;
  positive: LegFigures | null;
  ground: LegFigures | null;
  /** Both legs; `null` unless both wires are noted. */
  dropVolts: number | null;
  /** Thinnest sizes sold that keep the drop and carry the current; `null` without a length, or where none does. */
  advised: Record<SizeSystem, TradeSize | null>;
  /** Smallest fuse that carries the full sine, and the largest that the wire noted allows. */
  fuse: { loadAmps: number | null; wireAmps: number | null };
  warnings: WiringWarning[];
}

/**
 * What the supply of one amplifier carries, drops and needs.
 * @throws PlanRefused for a power, voltage, length or area that is not above 0.
 */
export function planPowerWiring(wiring: PowerWiring): PowerWiringPlan {
  const stage = wiring.stage ?? 'AB';
  const output = { ratedWatts: wiring.outputWatts, stage, supplyVolts: wiring.supplyVolts };
  const fullSine = drawAmperes({ ...output, outputWatts: wiring.outputWatts });
  const music = drawAmperes({ ...output, outputWatts: wiring.outputWatts * MUSIC_SHARE });
  const positive = legFigures(wiring.positive, fullSine.amperes);
  const ground = legFigures(wiring.ground, fullSine.amperes);
  const figures = {
    stage,
    fullSine,
    musicAmperes: music.amperes,
    positive,
    ground,
    dropVolts: positive === null || ground === null ? null : positive.dropVolts + ground.dropVolts,
    advised: {
      awg: advisedSize(wiring, fullSine.amperes, 'awg'),
      metric: advisedSize(wiring, fullSine.amperes, 'metric'),
    },
    fuse: {
      loadAmps: smallestFuseAmps(fullSine.amperes),
      wireAmps:
        wiring.positive === null ? null : largestFuseAmps(wiring.positive.areaMm2, wiring.positive.material),
    },
  };
  return { ...figures, warnings: wiringWarnings(wiring, figures) };
}

function legFigures(run: WireRun | null, amperes: number): LegFigures | null {
  if (run === null) return null;
  const ohms = runOhms(run);
  return { ohms, dropVolts: ohms * amperes };
}

/**
 * One size for both legs, in the positive wire's material: thick enough for
 * the drop, and for a fuse that carries the current.
 */
function advisedSize(wiring: PowerWiring, amperes: number, system: SizeSystem): TradeSize | null {
  const { positive, ground, allowedDropVolts } = wiring;
  if (positive === null) return null;
  const { material } = positive;
  const metres = positive.metres + (ground?.metres ?? 0);
  const forDrop = areaForDrop({ metres, amperes, allowedVolts: allowedDropVolts, material });
  const fuseNeeded = smallestFuseAmps(amperes) ?? FUSE_RATINGS_AMPS.at(-1) ?? amperes;
  let size = nextThicker(forDrop, system);
  while (size !== null && (largestFuseAmps(size.areaMm2, material) ?? 0) < fuseNeeded) {
    size = nextThicker(size.areaMm2 * 1.05, system);
  }
  return size;
}
