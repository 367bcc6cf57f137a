/** From the page to the capture worklet, or to the Worker that reads a track. */
export type CaptureCommand =
  | { type: 'sink'; port: MessagePort }
  | { type: 'pause' }
  | { type: 'resume' }
  | { type: 'stop' };

/** Name under which the worklet registers its processor. */
export const CAPTURE_PROCESSOR = 'kneepoint-capture';
