import { speedOfSound } from '../dsp/time/speed-of-sound.ts';
import type { RigCabin, RigPlace } from './rig-parts.ts';

/** A surface so near to a driver belongs to it: its sensitivity is stated with it. */
const MOUNTED_M = 0.2;

/** RMS at the microphone's input, full scale 1.0, of a sound pressure level. */
export function microphoneRms(cabin: RigCabin, splDb: number): number {
  return Math.SQRT1_2 * 10 ** ((splDb - cabin.fullScaleSplDb) / 20);
}

/** One way from a driver to the microphone. */
export interface RigSoundPath {
  metres: number;
  seconds: number;
  /** Pressure against 1 m of free air. */
  gain: number;
}

function distance(a: RigPlace, b: RigPlace): number {
  return Math.hypot(a.rightM - b.rightM, a.frontM - b.frontM, a.upM - b.upM);
}

/**
 * The direct way and one reflection from each of the cabin's six surfaces, by
 * mirror images of the driver (J. Allen and D. Berkley, JASA 65(4), 1979, of
 * first order): pressure falls with distance, a surface gives back a share.
 *
 * @returns the direct way first
 */
export function soundPaths(cabin: RigCabin, driver: RigPlace, microphone: RigPlace): RigSoundPath[] {
  const pathTo = (source: RigPlace, share: number): RigSoundPath => {
    const metres = distance(source, microphone);
    return { metres, seconds: metres / speedOfSound(cabin.airCelsius), gain: share / metres };
  };
  const paths = [pathTo(driver, 1)];
  for (const axis of ['rightM', 'frontM', 'upM'] as const) {
    for (const side of [-1, 1]) {
      const wall = side * cabin.halfSize[axis];
      if (Math.abs(wall - driver[axis]) < MOUNTED_M) continue;
      paths.push(pathTo({ ...driver, [axis]: 2 * wall - driver[axis] }, cabin.reflection));
    }
  }
  return paths;
}
