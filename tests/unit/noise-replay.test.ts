/** What the Quiet station recorded, kept as a WAV and a log and read back: the same record, byte for byte. */
import { expect, it } from 'vitest';
import { floatWav } from '../../src/audio/wav/float-wav.ts';
import { openWav } from '../../src/audio/wav/open-wav.ts';
import { readFrames } from '../../src/audio/wav/read-frames.ts';
import { keptRecord } from '../../src/job/kept-record.ts';
import { replay } from '../../src/job/replay.ts';
import { readSessionLog, type SessionLog } from '../../src/job/session-log.ts';
import { noiseResult } from '../../src/procedure/noise/result.ts';
import { NoiseHand, RATE_HZ } from './noise-hand.ts';
import { byteSource } from './wav-bytes.ts';

const STAMP = {
  id: 'one',
  at: '2026-03-14T10:00:00.000Z',
  conditions: {
    supplyVolts: null,
    engineRunning: true,
    loaded: true,
    volumeStep: 30,
    calibration: null,
    input: 'Practice rig',
    note: '',
  },
};

async function replayed(log: string, wav: ArrayBuffer) {
  const info = await openWav(byteSource(new Uint8Array(wav)));
  return replay(readSessionLog(log), async (atFrame, frames) => {
    const channels = [new Float32Array(frames)];
    await readFrames(info, atFrame, frames, channels);
    return channels;
  });
}

it('whine and hum, the lead pulled, the rev counter typed', async () => {
  const hand = new NoiseHand('front-left', ['engine-whine', 'mains-hum']);
  hand.followThrough();
  hand.type('idle', 790);
  hand.type('revved', 2010);
  const accepted = keptRecord({ kind: 'noise', ...STAMP, result: noiseResult(hand.state) });
  const log: SessionLog = {
    format: 'kneepoint-session',
    version: 1,
    kind: 'noise',
    sampleRateHz: RATE_HZ,
    file: 'noise.wav',
    entries: [...hand.entries, { type: 'accept', ...STAMP }],
  };
  const samples = Float32Array.from(hand.takes.flatMap((take) => [...take]));
  // As it lies on disk: the log goes through text.
  const written = JSON.stringify(log);
  const again = await replayed(written, floatWav([samples], RATE_HZ));
  expect(JSON.stringify(again)).toBe(JSON.stringify([accepted]));
  // Another recording gives another record: the comparison can fail.
  const louder = await replayed(written, floatWav([samples.map((sample) => 1.001 * sample)], RATE_HZ));
  expect(JSON.stringify(louder)).not.toBe(JSON.stringify([accepted]));
});
