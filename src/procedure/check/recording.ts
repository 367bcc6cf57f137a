/** A recording of which any stretch can be had. */
export interface CheckRecording {
  sampleRateHz: number;
  channelCount: number;
  frames: number;
  /** A fresh array for each channel. @param startFrame and `frames` lie inside the recording */
  read(startFrame: number, frames: number): Promise<Float32Array[]>;
}
