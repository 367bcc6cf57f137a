import type { RigConfig, RigControls, RigTone } from '../../rig/rig.ts';

/** From the page to the Worker that runs the practice rig. */
export type RigCommand =
  | { type: 'start'; config: RigConfig; controls: RigControls; tone: RigTone; port: MessagePort }
  | { type: 'controls'; controls: RigControls }
  | { type: 'tone'; tone: RigTone }
  | { type: 'pause' }
  | { type: 'resume' }
  | { type: 'stop' };

/** From that Worker to the page. */
export type RigReport = { type: 'started' };
