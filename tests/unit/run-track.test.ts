import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { identificationGroupSeconds } from '../../src/dsp/tones/identification.ts';
import { renderTone, toneSeconds } from '../../src/dsp/tones/render-tone.ts';
import type { ToneSpec } from '../../src/dsp/tones/spec.ts';
import type { Job } from '../../src/job/document.ts';
import { manifest, type RunPart, type RunTrack } from '../../src/job/manifest.ts';
import { newJob } from '../../src/job/new-job.ts';
import { readJob } from '../../src/job/read-job.ts';
import { RUN_CONTENTS, type RunOptions, usualRunOptions } from '../../src/job/run-track/options.ts';
import { runTrack } from '../../src/job/run-track/run-track.ts';

type Run = Omit<RunTrack, 'file'>;

const HATCHBACK = readJob(
  readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8'),
);
const RATE_HZ = 44_100;

function usual(job: Job | null, options: Partial<RunOptions> = {}): Run {
  return runTrack(job, { ...usualRunOptions(job), ...options }, RATE_HZ);
}

function partOf(run: Run, id: string): RunPart {
  const found = run.parts.find((part) => part.id === id);
  if (found === undefined) throw new Error(`no part ${id} among ${run.parts.map((p) => p.id).join(', ')}`);
  return found;
}

function toneOf(part: RunPart): ToneSpec {
  if (part.kind !== 'silence' || part.keepAlive === undefined) return part;
  return { kind: 'sine', ...part.keepAlive, durationSeconds: part.durationSeconds };
}

/** Parts and markers, in the order of time. */
function stretches({ parts, markers }: Run) {
  const marker = (startSeconds: number) => ({ startSeconds, durationSeconds: markers.durationSeconds });
  return [marker(markers.startSeconds), marker(markers.endSeconds), ...parts]
    .map(({ startSeconds, durationSeconds }) => ({ from: startSeconds, to: startSeconds + durationSeconds }))
    .sort((a, b) => a.from - b.from);
}

const corner = (lowHz: number, highHz: number) =>
  fc.option(fc.integer({ min: lowHz, max: highHz }), { nil: null });

/** Jobs with any feed, band, tone and overlap. */
const anyJob = fc
  .array(
    fc.record({
      fedBy: fc.constantFrom('left', 'right', 'both'),
      highPassHz: corner(20, 4000),
      lowPassHz: corner(5000, 12_000),
      overlapDb: fc.integer({ min: 0, max: 12 }),
      frequencyHz: fc.constantFrom(31, 43, 997, 4999),
    }),
    { minLength: 1, maxLength: 8 },
  )
  .map((channels): Job => {
    const job = structuredClone(HATCHBACK);
    const [first] = job.channels;
    job.channels = channels.map(({ fedBy, highPassHz, lowPassHz, overlapDb, frequencyHz }, index) => ({
      ...structuredClone(first!),
      id: ['left', 'right', 'both'][index] ?? `channel-${index}`,
      name: `Channel ${index}`,
      fedBy,
      band: { highPassHz, lowPassHz },
      tone: { frequencyHz, levelDbfs: -overlapDb },
      overlapDb,
    }));
    return job;
  });

const anyOptions = fc.record({
  contents: fc.subarray([...RUN_CONTENTS], { minLength: 1 }),
  sides: fc.constantFrom('each' as const, 'together' as const),
  silenceSeconds: fc.integer({ min: 2, max: 60 }),
});

describe('the run track of the demo job', () => {
  const run = usual(HATCHBACK);

  it('serves every channel with a level, softly and at full power, polarity, response and loudness', () => {
    for (const { id, fedBy, overlapDb, tone } of HATCHBACK.channels) {
      const serving = run.parts.filter((part) => part.serves.includes(id));
      expect(serving.map(({ kind }) => kind).sort(), id).toEqual([
        'pink',
        'polarity',
        'sine',
        'sine',
        'sweep',
      ]);
      for (const part of serving) expect(part.channels, `${part.id} for ${id}`).toBe(fedBy);
      const sines = serving.flatMap((part) => (part.kind === 'sine' ? part : []));
      expect(sines.map(({ levelDbfs }) => levelDbfs)).toEqual([-overlapDb - 20, -overlapDb]);
      for (const { frequencyHz } of sines) expect(frequencyHz).toBe(tone.frequencyHz);
    }
    expect(partOf(run, 'front-left-level').caution).toMatch(/full power/);
  });

  it('is under a minute long, and shorter where both sides may play at once', () => {
    expect(run.durationSeconds).toBeLessThan(60);
    const together = usual(HATCHBACK, { sides: 'together' });
    expect(together.durationSeconds).toBeLessThan(run.durationSeconds - 8);
    const served = together.parts.flatMap((part) => (part.kind === 'sweep' ? part.serves : []));
    expect(served).toEqual(HATCHBACK.channels.map(({ id }) => id));
  });

  it('keeps a sensing converter awake through the silence, and lets one with a wire alone', () => {
    expect(partOf(run, 'silence')).toMatchObject({ keepAlive: { frequencyHz: 31, levelDbfs: -60 } });
    const wired = structuredClone(HATCHBACK);
    wired.converter!.turnOn = 'remote-wire';
    const silent = usual(wired);
    expect(partOf(silent, 'silence')).not.toHaveProperty('keepAlive');
    expect(partOf(silent, 'wake').durationSeconds).toBeLessThan(partOf(run, 'wake').durationSeconds);
  });

  it('plays full power only after everything that is soft and short has been heard', () => {
    const firstLoud = Math.min(
      ...run.parts.filter(({ id }) => id.endsWith('-level')).map(({ startSeconds }) => startSeconds),
    );
    for (const part of run.parts.filter(({ id }) => id.endsWith('-reduced') || id === 'level-steps')) {
      expect(part.startSeconds).toBeLessThan(firstLoud);
    }
  });

  it('plays whole groups of beeps', () => {
    for (const part of run.parts) {
      if (part.kind !== 'identification') continue;
      expect(part.durationSeconds).toBeCloseTo(identificationGroupSeconds(part.beeps), 12);
    }
  });

  it('stands in a manifest as its format allows', () => {
    const set = {
      format: 'kneepoint-tone-set',
      version: 1,
      sampleRateHz: RATE_HZ,
      bits: 16,
      jobId: HATCHBACK.id,
      tracks: [{ ...run, file: '01-run.wav' }],
    };
    expect(manifest.parse(JSON.parse(JSON.stringify(set)))).toEqual(set);
  });
});

describe('any run track', () => {
  it('leaves the guard it states between parts and markers, and lasts as long as it says', () => {
    fc.assert(
      fc.property(anyJob, anyOptions, (job, options) => {
        const run = usual(job, options);
        const all = stretches(run);
        for (const [index, { from }] of all.slice(1).entries()) {
          expect(from - all[index]!.to).toBeGreaterThanOrEqual(run.guardSeconds - 1e-9);
        }
        expect(all[0]!.from).toBeGreaterThanOrEqual(0.5);
        expect(run.durationSeconds - all.at(-1)!.to).toBeGreaterThanOrEqual(0.5 - 1e-9);
        expect(new Set(run.parts.map(({ id }) => id)).size).toBe(run.parts.length);
        for (const part of run.parts) expect(toneSeconds(part)).toBeCloseTo(part.durationSeconds, 9);
      }),
    );
  });

  it('begins each part and marker on a whole frame at every usual rate', () => {
    fc.assert(
      fc.property(anyJob, anyOptions, (job, options) => {
        for (const { from } of stretches(usual(job, options))) {
          for (const rate of [16_000, 22_050, 32_000, 44_100, 48_000, 88_200, 96_000, 192_000]) {
            expect(Math.abs(from * rate - Math.round(from * rate))).toBeLessThan(1e-6);
          }
        }
      }),
    );
  });

  it('serves every channel with each content that is chosen', () => {
    fc.assert(
      fc.property(anyJob, anyOptions, (job, options) => {
        const run = usual(job, options);
        const chosen = (content: RunOptions['contents'][number]) => options.contents.includes(content);
        for (const { id, overlapDb, tone } of job.channels) {
          for (const part of run.parts) {
            if (part.kind !== 'sine' || !part.serves.includes(id)) continue;
            expect(part.frequencyHz).toBe(tone.frequencyHz);
            expect([-overlapDb, -overlapDb - 20]).toContain(part.levelDbfs);
          }
          const kinds = run.parts.filter(({ serves }) => serves.includes(id)).map(({ kind }) => kind);
          expect(kinds.filter((kind) => kind === 'sine').length).toBe(
            Number(chosen('reduced')) + Number(chosen('full')),
          );
          expect(kinds.includes('polarity')).toBe(chosen('polarity'));
          expect(kinds.includes('sweep')).toBe(chosen('response'));
          expect(kinds.includes('pink')).toBe(chosen('balance'));
        }
      }),
    );
  });

  it('lets every coil rest twelve times as long as it was driven at full power, before it is again', () => {
    fc.assert(
      fc.property(anyJob, fc.constantFrom('each' as const, 'together' as const), (job, sides) => {
        const run = usual(job, { sides });
        for (const { fedBy, band } of job.channels) {
          const driving = run.parts.filter(
            (part) =>
              part.kind === 'sine' &&
              part.id.includes('-level') &&
              (part.channels === fedBy || part.channels === 'both' || fedBy === 'both') &&
              part.frequencyHz >= (band.highPassHz ?? 0) &&
              part.frequencyHz <= (band.lowPassHz ?? 20_000),
          );
          for (const [index, { startSeconds }] of driving.slice(1).entries()) {
            const before = driving[index]!;
            const rest = startSeconds - before.startSeconds - before.durationSeconds;
            expect(rest).toBeGreaterThanOrEqual(12 * before.durationSeconds - 1e-9);
          }
          for (const { durationSeconds } of driving) expect(durationSeconds).toBeLessThanOrEqual(1.2);
        }
      }),
    );
  });
});

describe('the parts of a run track', () => {
  it.each([
    ['the demo job', HATCHBACK],
    ['no job', null],
    ['a new job', newJob({ preset: 'front-pair', id: 'new', at: '2026-03-14T09:00:00.000Z' })],
  ])('of %s are rendered as they stand, inside full scale', (_, job) => {
    for (const rate of [16_000, 44_100]) {
      for (const part of runTrack(job, usualRunOptions(job), rate).parts) {
        const samples = renderTone(toneOf(part), rate);
        expect(Math.abs(samples.length - part.durationSeconds * rate), part.id).toBeLessThanOrEqual(1);
        expect(
          samples.reduce((highest, value) => Math.max(highest, Math.abs(value)), 0),
          part.id,
        ).toBeLessThan(1);
      }
    }
  });
});

describe('a run track that cannot be made', () => {
  it.each([
    [{ contents: [] }, RATE_HZ, /Nothing is chosen/],
    [{ silenceSeconds: 1 }, RATE_HZ, /from 2 to 60 s/],
    [{}, 8_000, /at least 16000 Hz/],
  ])('is refused with what would be right', (options, rate, sentence) => {
    expect(() => runTrack(null, { ...usualRunOptions(null), ...options }, rate)).toThrow(sentence);
  });
});
