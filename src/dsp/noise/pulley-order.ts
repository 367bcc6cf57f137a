/** What turns engine speed into an alternator's ripple. */
export interface AlternatorDrive {
  /** Turns of the alternator for each turn of the engine; 2 to 3 is usual. */
  pulleyRatio: number;
  /** 6 or 8 are usual. */
  polePairs: number;
}

/**
 * Ripple of a full-wave rectified three-phase alternator: six pulses for each pole pair and turn
 * (references, item 13). Inverse: `engineRpmOfRipple`.
 */
export function alternatorRippleHz(engineRpm: number, { pulleyRatio, polePairs }: AlternatorDrive): number {
  return (6 * polePairs * pulleyRatio * engineRpm) / 60;
}

/** Inverse of `alternatorRippleHz`. */
export function engineRpmOfRipple(rippleHz: number, drive: AlternatorDrive): number {
  return rippleHz / alternatorRippleHz(1, drive);
}
