import type { RigConfig, RigControls, RigTone } from '../../rig/rig.ts';

/** From the page to the Worker that runs the practice rig. */
export type RigCommand =
  | {
      type: 'start';
      config: RigConfig;
      controls: RigControls;
      tone: RigTone;
      /** How many times as fast as a vehicle; 1 for real time. */
      pace: number;
      port: MessagePort;
    }
  | { type: 'controls'; controls: RigControls }
  | { type: 'tone'; tone: RigTone }
  | { type: 'pause' }
  | { type: 'resume' }
  | { type: 'stop' };

/** From that Worker to the page. */
export type RigReport = { type: 'started' };
