import type { RigConfig, RigControls } from './rig.ts';

/** Fundamental of the alternator's ripple, Hz; `null` while the engine stands. */
export function rippleHz(config: RigConfig, controls: RigControls): number | null {
  const { idleRpm, revvedRpm, ripplesPerTurn } = config.engine;
  if (controls.engine === 'idle') return (idleRpm / 60) * ripplesPerTurn;
  return controls.engine === 'revved' ? (revvedRpm / 60) * ripplesPerTurn : null;
}
