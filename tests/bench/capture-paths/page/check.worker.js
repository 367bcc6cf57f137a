import { FrameChecker } from './frame-checker.js';

let checker;
let facts = {};

async function readTrack(readable) {
  const reader = readable.getReader();
  let left = new Float32Array(0);
  let right = left;
  let lastTimestamp = -1;
  let timestampJumps = 0;
  let largestJumpMs = 0;
  for (;;) {
    const { value, done } = await reader.read();
    if (done) return;
    const frames = value.numberOfFrames;
    if (left.length !== frames) {
      left = new Float32Array(frames);
      right = new Float32Array(frames);
    }
    value.copyTo(left, { planeIndex: 0, format: 'f32-planar' });
    value.copyTo(right, { planeIndex: value.numberOfChannels > 1 ? 1 : 0, format: 'f32-planar' });
    // Microseconds; a block is several thousand of them.
    const jumpMs = lastTimestamp >= 0 ? Math.abs(value.timestamp - lastTimestamp) / 1000 : 0;
    if (jumpMs > 1) timestampJumps++;
    if (jumpMs > largestJumpMs) largestJumpMs = jumpMs;
    lastTimestamp = value.timestamp + (1e6 * frames) / value.sampleRate;
    facts = {
      sampleRateHz: value.sampleRate,
      blockFrames: frames,
      channels: value.numberOfChannels,
      timestampJumps,
      largestJumpMs,
    };
    value.close();
    checker.push(left, right);
  }
}

self.onmessage = (event) => {
  const message = event.data;
  if (message.type === 'report') {
    self.postMessage({ ...checker.report(), facts });
    return;
  }
  checker = new FrameChecker(message.periodFrames, message.rateHz, message.toneHz);
  if (message.readable) readTrack(message.readable);
  if (message.port)
    message.port.onmessage = (block) => {
      checker.push(block.data.block[0], block.data.block[1]);
      facts = block.data.facts;
      message.port.postMessage(
        { block: block.data.block },
        block.data.block.map((c) => c.buffer),
      );
    };
};
