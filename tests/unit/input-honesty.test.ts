/** The Input station's check as a fold: a stepped tone through the practice rig's input, and through worse ones. */
import { describe, expect, it } from 'vitest';
import { blobBytes } from '../../src/audio/wav/blob-bytes.ts';
import { floatWav } from '../../src/audio/wav/float-wav.ts';
import { openWav } from '../../src/audio/wav/open-wav.ts';
import { readFrames } from '../../src/audio/wav/read-frames.ts';
import { keptRecord } from '../../src/job/kept-record.ts';
import { replay } from '../../src/job/replay.ts';
import { readSessionLog } from '../../src/job/session-log.ts';
import { INPUT_PROCEDURE, inputStart, inputStep } from '../../src/procedure/input/input-steps.ts';
import { readTake } from '../../src/procedure/take/read-take.ts';
import type { Take } from '../../src/procedure/take/take.ts';
import { DEMO_CONTROLS, DEMO_RIG } from '../../src/rig/demo-rig.ts';
import { faultyRig } from '../../src/rig/faults.ts';
import { PracticeRig } from '../../src/rig/practice-rig.ts';
import type { RigConfig } from '../../src/rig/rig.ts';
import { cleanTrial, STEPS } from './honesty-recordings.ts';
import { gainRecord } from './job-records.ts';

const TASK = { way: 'wire' as const, steps: STEPS };
const REQUEST = { kind: 'steps', steps: STEPS } as const;

/** The rig's radio plays the stepped tone once, at its last clean step, a second of silence ahead. */
function rigTake(config: RigConfig): Take {
  const silence = { kind: 'silence', frequencyHz: 997, levelDbfs: -5, channels: 'both' } as const;
  const controls = { ...DEMO_CONTROLS, gains: { 'front-left': 0.5 } };
  const rig = new PracticeRig(config, controls, silence);
  const seconds = 16;
  const samples = new Float32Array(seconds * config.sampleRateHz);
  rig.fill([samples], config.sampleRateHz);
  rig.setTone({ kind: 'track', spec: STEPS, channels: 'both', loop: false });
  rig.fill([samples.subarray(config.sampleRateHz)], samples.length - config.sampleRateHz);
  return { sampleRateHz: config.sampleRateHz, startFrame: 0, channels: [samples], doubts: [] };
}

function judged(take: Take, way: 'wire' | 'air' = 'wire') {
  const reading = readTake(REQUEST, take);
  return inputStep(inputStart({ ...TASK, way }), { type: 'take', purpose: null, request: REQUEST, reading });
}

describe('the honesty check', () => {
  it('finds nothing on the healthy rig, and its record holds steps of 10 dB', () => {
    const state = judged(rigTake(DEMO_RIG));
    expect(state.verdict).toBe('honest');
    expect(state.findings).toEqual([]);
    const result = INPUT_PROCEDURE.result(state);
    // An input is raw when 10 dB reads 10.0 within 0.2 dB (design, section 5).
    for (const error of result.stepErrorsDb) expect(Math.abs(error)).toBeLessThan(0.2);
    expect(result.steps.map((step) => step.askedDbfs)).toEqual(STEPS.levelsDbfs);
  });

  it('names an input that gains itself, with figures and a remedy, and asks for a second thought', () => {
    const state = judged(rigTake(faultyRig(DEMO_RIG, 'input-gains-itself')));
    expect(state.verdict).toBe('not-honest');
    expect(state.findings[0]).toMatchObject({ fault: 'automatic-gain' });
    expect(state.findings[0]?.evidence).toMatch(/dB/);
    expect(state.acceptance).toMatchObject({ can: true, needsSecondThought: true });
  });

  it('takes one channel twice for a fault by wire, and for a microphone by air', () => {
    const { channels, sampleRateHz } = cleanTrial();
    const first = Float32Array.from(channels[0]!);
    const take = { sampleRateHz, startFrame: 0, channels: [first, first.slice()], doubts: [] };
    expect(judged(take).findings.map((one) => one.fault)).toEqual(['one-channel-twice']);
    expect(judged(take, 'air').verdict).toBe('honest');
  });

  it('proves nothing without the tone, or with a hole in the recording, and may not be recorded', () => {
    const { channels, sampleRateHz } = cleanTrial();
    const whole = channels.map((one) => Float32Array.from(one));
    const silent = { sampleRateHz, startFrame: 0, channels: [new Float32Array(48_000)], doubts: [] };
    const holed: Take = { sampleRateHz, startFrame: 0, channels: whole, doubts: ['gap'] };
    for (const take of [silent, holed]) {
      const state = judged(take);
      expect(state.verdict).toBe('not-proven');
      expect(state.acceptance.can).toBe(false);
      expect(() => INPUT_PROCEDURE.result(state)).toThrow(/has to be heard whole/);
    }
  });

  it('refuses a tone of one level', () => {
    const steps = { ...STEPS, levelsDbfs: [-20] };
    expect(() => inputStart({ way: 'wire', steps })).toThrow(/1 level; an input is judged by two or more/);
  });
});

it('a saved recording of it replays into the same record, byte for byte', async () => {
  const take = rigTake(DEMO_RIG);
  const { conditions } = gainRecord('x');
  const at = '2026-03-14T10:00:00.000Z';
  const result = INPUT_PROCEDURE.result(judged(take));
  const accepted = keptRecord({ kind: 'input', id: 'a', at, conditions, result });
  const info = await openWav(blobBytes(new Blob([floatWav(take.channels, take.sampleRateHz)])));
  const log = readSessionLog(
    JSON.stringify({
      format: 'kneepoint-session',
      version: 1,
      kind: 'input',
      sampleRateHz: take.sampleRateHz,
      file: 'input.wav',
      entries: [
        { type: 'start', task: TASK },
        {
          type: 'take',
          purpose: null,
          request: REQUEST,
          startFrame: 0,
          frames: info.frames,
          atFrame: 0,
          doubts: [],
        },
        { type: 'accept', id: 'a', at, conditions },
      ],
    }),
  );
  const replayed = await replay(log, async (atFrame, frames) => {
    const into = [new Float32Array(frames)];
    await readFrames(info, atFrame, frames, into);
    return into;
  });
  expect(JSON.stringify(replayed)).toBe(JSON.stringify([accepted]));
});
