import type { RigConfig, RigControls } from './rig.ts';
import type { RigBassCut } from './rig-parts.ts';

/** What the radio's processor makes of the low end, as `gain * (1 - depth * lowPass)` for each shelf. */
export interface RadioShape {
  bassCutDepth: number;
  unloadedDepth: number;
  unloadedGain: number;
}

/** Share of the low end that is taken away by a shelf of this depth. */
function depthOf(db: number): number {
  return 1 - 10 ** (-db / 20);
}

function bassCutDb(bassCut: RigBassCut | null, volumeStep: number): number {
  if (bassCut === null) return 0;
  const past = Math.max(0, volumeStep - bassCut.fromStep);
  return Math.min(bassCut.deepestDb, past * bassCut.dbPerStep);
}

export function radioShape(config: RigConfig, controls: RigControls): RadioShape {
  const { bassCut, unloaded } = config.radio;
  const missesLoad = unloaded !== null && controls.loadResistors === false;
  return {
    bassCutDepth: depthOf(bassCutDb(bassCut, controls.volumeStep)),
    unloadedDepth: missesLoad ? depthOf(unloaded.bassLossDb) : 0,
    unloadedGain: missesLoad ? 10 ** (-unloaded.lossDb / 20) : 1,
  };
}

/** `|1 - depth / (1 + j f/corner)|`. */
function shelfGain(depth: number, cornerHz: number, frequencyHz: number): number {
  const ratio = frequencyHz / cornerHz;
  return Math.hypot(1 - depth, ratio) / Math.hypot(1, ratio);
}

/** Gain of the radio's shape at a frequency, as a factor: 1 on a healthy radio. */
export function radioShapeGain(config: RigConfig, controls: RigControls, frequencyHz: number): number {
  const { bassCut, unloaded } = config.radio;
  const { bassCutDepth, unloadedDepth, unloadedGain } = radioShape(config, controls);
  const cut = bassCut === null ? 1 : shelfGain(bassCutDepth, bassCut.cornerHz, frequencyHz);
  const loss = unloaded === null ? 1 : shelfGain(unloadedDepth, unloaded.cornerHz, frequencyHz);
  return cut * loss * unloadedGain;
}
