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
  /** Begins after so many frames more; a newer tone takes its place, begun or not. */
  | { type: 'tone'; tone: RigTone; afterFrames: number }
  /** Asks to be told once so many more frames are made, with all that was commanded before in force. */
  | { type: 'await'; id: number; frames: number }
  /** Stands still once what was commanded before is done, and tells the next frame; until released. */
  | { type: 'hold'; id: number }
  | { type: 'release' }
  | { type: 'pause' }
  | { type: 'resume' }
  | { type: 'stop' };

/** From that Worker to the page. */
export type RigReport =
  | { type: 'started' }
  /** @property frame the next one that will be made */
  | { type: 'made'; id: number; frame: number };
