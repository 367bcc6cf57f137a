import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { renderTone, toneSeconds } from '../../src/dsp/tones/render-tone.ts';
import type { ToneSpec } from '../../src/dsp/tones/spec.ts';
import { type Manifest, manifest, type Track } from '../../src/job/manifest.ts';
import { newJob } from '../../src/job/new-job.ts';
import { readJob } from '../../src/job/read-job.ts';
import { toneSet } from '../../src/job/tone-set.ts';
import { balanceBand } from '../../src/job/tone-tracks/balance.ts';

const HATCHBACK = readJob(
  readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8'),
);
const FORM = { sampleRateHz: 44_100, bits: 16 } as const;

function byId(set: Manifest, id: string): Track {
  const found = set.tracks.find((track) => track.id === id);
  if (found === undefined) throw new Error(`no track ${id} among ${set.tracks.map((t) => t.id).join(', ')}`);
  return found;
}

/** Does not compile where a track stops being a tone the renderer knows. */
function toneOf(track: Track): ToneSpec {
  if (track.kind === 'run') throw new Error('a run track is no single tone');
  return track;
}

describe('the tone set of the demo job', () => {
  const set = toneSet(HATCHBACK, FORM);

  it('names and numbers its files in the order of the work, the front left level third', () => {
    expect(set.tracks.map((track) => track.file)).toEqual(
      set.tracks.map((track, i) => `${String(i + 1).padStart(2, '0')}-${track.id}.wav`),
    );
    expect(byId(set, 'front-left-level').file).toBe('03-front-left-level.wav');
    expect(new Set(set.tracks.map((track) => track.id)).size).toBe(set.tracks.length);
    expect(set).toMatchObject({ format: 'kneepoint-tone-set', version: 1, jobId: 'hatchback', ...FORM });
  });

  it('has for each channel its own setting tone, on the sides that feed it', () => {
    for (const channel of HATCHBACK.channels) {
      expect(byId(set, `${channel.id}-level`)).toMatchObject({
        kind: 'sine',
        channels: channel.fedBy,
        serves: [channel.id],
        ...channel.tone,
      });
    }
  });

  it('holds every kind that the work needs, each with a purpose, and a caution where coils get warm', () => {
    const kinds = new Set(set.tracks.map((track) => track.kind));
    expect([...kinds].sort()).toEqual(
      ['identification', 'pink', 'polarity', 'run', 'silence', 'sine', 'steps', 'sweep'].sort(),
    );
    for (const track of set.tracks) expect(track.purpose).toMatch(/^[A-Z].*\.$/);
    for (const track of set.tracks.filter((one) => one.id.endsWith('-level')))
      expect(track.caution).toMatch(/heats/);
  });

  it('has for each channel the reduced tone 20 dB under minus its overlap, and bursts of a second with long pauses', () => {
    for (const { id, overlapDb, fedBy, tone } of HATCHBACK.channels) {
      const reduced = { kind: 'sine', channels: fedBy, levelDbfs: -overlapDb - 20, caution: null };
      expect(byId(set, `${id}-reduced`)).toMatchObject({ ...reduced, frequencyHz: tone.frequencyHz });
      const bursts = byId(set, `${id}-bursts`);
      expect(bursts).toMatchObject({ kind: 'steps', channels: fedBy, stepSeconds: 1 });
      if (bursts.kind !== 'steps') throw new Error(bursts.kind);
      expect(bursts.levelsDbfs).toEqual([-overlapDb - 6, -overlapDb, -overlapDb + 1]);
      expect(bursts.pauseSeconds).toBeGreaterThanOrEqual(10 * bursts.stepSeconds);
      expect(bursts.caution).toMatch(/never on repeat/);
      expect(bursts.durationSeconds).toBeCloseTo(toneSeconds(toneOf(bursts)), 9);
    }
  });

  it('leaves reduced tones and bursts out where there is no job whose gain they would set', () => {
    const general = toneSet(null, FORM).tracks.map((track) => track.id);
    expect(general).toContain('left-level');
    expect(general.filter((id) => /-(reduced|bursts)$/.test(id))).toEqual([]);
  });

  it('gives channels that are fed alike and pass the same band one noise and one pulse between them', () => {
    expect(byId(set, 'front-left-balance').serves).toEqual(['front-left', 'rear-left']);
    expect(byId(set, 'front-right-polarity').serves).toEqual(['front-right', 'rear-right']);
    expect(byId(set, 'subwoofer-balance')).toMatchObject({ serves: ['subwoofer'], channels: 'both' });
  });

  it('sweeps each way that channels are fed; a tweeter by itself, softly, from two octaves under its high-pass', () => {
    expect(byId(set, 'left-sweep')).toMatchObject({ channels: 'left', serves: ['front-left', 'rear-left'] });
    expect(byId(set, 'both-sweep')).toMatchObject({ serves: ['subwoofer'], startHz: 15, endHz: 18_000 });
    const job = structuredClone(HATCHBACK);
    job.channels[0]!.band.highPassHz = 3500;
    const guarded = toneSet(job, FORM);
    expect(byId(guarded, 'front-left-sweep')).toMatchObject({
      startHz: 875,
      levelDbfs: -30,
      channels: 'left',
    });
    expect(byId(guarded, 'left-sweep').serves).toEqual(['rear-left']);
    // On one law, octaves per second, whatever a slow rate cuts off: 15 Hz to 18 kHz in 3 s.
    const slow = byId(toneSet(null, { sampleRateHz: 8000, bits: 16 }), 'left-sweep');
    if (slow.kind !== 'sweep') throw new Error(slow.kind);
    expect(slow.endHz).toBe(3600);
    expect(slow.durationSeconds / Math.log(3600 / 15)).toBeCloseTo(3 / Math.log(18_000 / 15), 12);
  });

  it('ends with the run track, at rates that hold its markers', () => {
    expect(set.tracks.at(-1)).toMatchObject({
      id: 'run',
      kind: 'run',
      serves: HATCHBACK.channels.map(({ id }) => id),
    });
    const slow = toneSet(HATCHBACK, { sampleRateHz: 8_000, bits: 16 });
    expect(slow.tracks.some(({ kind }) => kind === 'run')).toBe(false);
  });

  it('steps by exactly 10 dB, below full scale', () => {
    const steps = byId(set, 'level-steps');
    if (steps.kind !== 'steps') throw new Error(steps.kind);
    const differences = steps.levelsDbfs.slice(1).map((level, i) => level - (steps.levelsDbfs[i] ?? 0));
    expect(differences).toEqual([10, 10, 10]);
  });
});

describe.each([
  ['the demo job', HATCHBACK],
  ['no job at all', null],
  ['a new job', newJob({ preset: 'front-pair', id: 'new', at: '2026-03-14T09:00:00.000Z' })],
])('the tone set of %s', (_, job) => {
  it.each([8_000, 44_100, 48_000, 192_000])('at %i Hz is a valid manifest', (sampleRateHz) => {
    const set = toneSet(job, { sampleRateHz, bits: 24 });
    expect(manifest.parse(JSON.parse(JSON.stringify(set)))).toEqual(set);
  });

  it('is rendered as it stands by the renderer, and lasts as long as it says', () => {
    // The lowest usual rate keeps the work small; whether a tone fits does not get easier than there.
    const sampleRateHz = 16_000;
    for (const track of toneSet(job, { sampleRateHz, bits: 16 }).tracks) {
      // The run track's own tests have the like of this for its parts.
      if (track.kind === 'run') continue;
      const tone = toneOf(track);
      expect(toneSeconds(tone), track.id).toBeCloseTo(track.durationSeconds, 9);
      const samples = renderTone(tone, sampleRateHz);
      expect(Math.abs(samples.length - track.durationSeconds * sampleRateHz), track.id).toBeLessThanOrEqual(
        1,
      );
      expect(Math.max(...peaks(samples)), track.id).toBeLessThanOrEqual(1);
    }
  });
});

function peaks(samples: Float64Array): number[] {
  let highest = 0;
  for (const sample of samples) highest = Math.max(highest, Math.abs(sample));
  return [highest];
}

describe('the band of the balance noise', () => {
  it.each([
    ['a door', { highPassHz: 80, lowPassHz: null }, 500, 2000],
    ['a subwoofer', { highPassHz: 25, lowPassHz: 80 }, 31.25, 64],
    ['a subwoofer without a subsonic filter', { highPassHz: null, lowPassHz: 80 }, 20, 64],
    ['a tweeter', { highPassHz: 3500, lowPassHz: null }, 4375, 17_500],
  ])('of %s lies inside what it passes, two octaves at most', (_, band, lowHz, highHz) => {
    expect(balanceBand(band, 48_000)).toEqual({ lowHz, highHz });
  });

  it('is never empty, however close the filters stand', () => {
    const { lowHz, highHz } = balanceBand({ highPassHz: 100, lowPassHz: 110 }, 48_000);
    expect(lowHz).toBeLessThan(highHz);
    expect(lowHz).toBeGreaterThan(90);
    expect(highHz).toBeLessThan(120);
  });
});

describe('a tone set that cannot be made', () => {
  it('is refused with what would be right', () => {
    expect(() => toneSet(null, { sampleRateHz: 7999, bits: 16 })).toThrow(/from 8000 to 192000 Hz/);
    const job = structuredClone(HATCHBACK);
    job.channels[0]!.tone.frequencyHz = 5000;
    expect(() => toneSet(job, { sampleRateHz: 8000, bits: 16 })).toThrow(
      /5000 Hz tone of front-left does not fit/,
    );
  });
});
