/** Takes: read for what was played, saved as they are, replayed from the file. */
import { describe, expect, it } from 'vitest';
import { blobBytes } from '../../src/audio/wav/blob-bytes.ts';
import { floatWav } from '../../src/audio/wav/float-wav.ts';
import { openWav } from '../../src/audio/wav/open-wav.ts';
import { readFrames } from '../../src/audio/wav/read-frames.ts';
import { readTake } from '../../src/procedure/take/read-take.ts';
import { seededGauss, seededUniform } from './seeded-random.ts';

const RATE_HZ = 48_000;

function tone(frequencyHz: number, peak: number, seconds: number): Float32Array {
  const noise = seededGauss(seededUniform(11));
  return Float32Array.from(
    { length: seconds * RATE_HZ },
    (_, i) => peak * Math.sin((2 * Math.PI * frequencyHz * i) / RATE_HZ) + 1e-5 * noise(),
  );
}

const take = (channels: Float32Array[], doubts: ('gap' | 'level-unsteady')[] = []) => ({
  sampleRateHz: RATE_HZ,
  startFrame: 5120,
  channels,
  doubts,
});

describe('a take of a tone', () => {
  it('reads the asked channel, its level against a full-scale sine, and where it lay', () => {
    const request = { kind: 'tone', channelIndex: 1, frequencyHz: 997 } as const;
    const reading = readTake(request, take([tone(997, 0.9, 1), tone(997, 0.1, 1)]));
    // Noise of 1e-5 leaves the level of a second's fit uncertain by less than 1e-5 dB.
    expect(reading.channel.tone?.levelDbfs).toBeCloseTo(-20, 4);
    expect(reading).toMatchObject({ seconds: 1, startFrame: 5120, grade: 'valid', doubts: [] });
    expect(reading.channel.clipping.verdict).toBe('clean');
  });

  it('hears no tone where another one plays: 0.2 % is a clock, more is another tone', () => {
    const heard = (playedHz: number) =>
      readTake({ kind: 'tone', channelIndex: 0, frequencyHz: 1000 }, take([tone(playedHz, 0.5, 1)])).channel;
    expect(heard(1001.9).tone?.frequencyHz).toBeCloseTo(1001.9, 3);
    expect(heard(1002.2).tone).toBeNull();
    expect(heard(1002.2).levelDbfs).toBeCloseTo(-6.02, 2);
  });

  it('carries its doubts into its grade, its own overload among them', () => {
    const request = { kind: 'tone', channelIndex: 0, frequencyHz: 997 } as const;
    const gapped = readTake(request, take([tone(997, 0.5, 1)], ['level-unsteady', 'gap']));
    expect(gapped).toMatchObject({ grade: 'invalid', doubts: ['gap', 'level-unsteady'] });
    const flattened = tone(997, 1.5, 1).map((sample) => Math.max(-1, Math.min(1, sample)));
    expect(readTake(request, take([flattened]))).toMatchObject({
      grade: 'invalid',
      doubts: ['input-overload'],
    });
  });

  it('refuses a channel that the input does not have, and nothing at all', () => {
    const ask = (channels: Float32Array[]) => () =>
      readTake({ kind: 'tone', channelIndex: 1, frequencyHz: 997 }, take(channels));
    expect(ask([tone(997, 0.5, 1)])).toThrow('Input channel 2 was asked for; this recording has 1.');
    expect(ask([new Float32Array(0), new Float32Array(0)])).toThrow(/holds no frames/);
  });
});

describe('a WAV of samples as they are', () => {
  it('comes back bit for bit, every channel, past full scale as well', async () => {
    const channels = [tone(440, 1.7, 0.1), tone(61, 0.3, 0.1)];
    const info = await openWav(blobBytes(new Blob([floatWav(channels, RATE_HZ)])));
    expect(info).toMatchObject({
      sampleRateHz: RATE_HZ,
      channelCount: 2,
      frames: 4800,
      sampleFormat: 'float32',
    });
    const back = channels.map((one) => new Float32Array(one.length));
    await readFrames(info, 0, info.frames, back);
    expect(back).toEqual(channels);
  });

  it('refuses channels of different lengths', () => {
    expect(() => floatWav([new Float32Array(3), new Float32Array(4)], RATE_HZ)).toThrow(/of one length/);
    expect(() => floatWav([], RATE_HZ)).toThrow(/must be one/);
  });
});
