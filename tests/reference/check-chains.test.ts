/**
 * The run track through randomised chains of independent programs: `check` names exactly the faults that were put in,
 * none in a clean chain, and its figures are those of the chain.
 */
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runWav } from '../../src/audio/wav/run-wav.ts';
import type { Job } from '../../src/job/document.ts';
import type { RunTrack } from '../../src/job/manifest.ts';
import { readJob } from '../../src/job/read-job.ts';
import { type RunContent, usualRunOptions } from '../../src/job/run-track/options.ts';
import { runTrack } from '../../src/job/run-track/run-track.ts';
import type { CheckedPart, CheckReport } from '../../src/procedure/check/check.ts';
import { builtCli } from '../unit/built-cli.ts';
import { seededUniform } from '../unit/seeded-random.ts';
import { type ChainRecipe, type Codec, FULL_DBFS, noiseRms, playersFile, recorded } from './check-chain.ts';
import { lacks, runSox } from './oracle.ts';

const cli = builtCli();
const RATE_HZ = 44_100;
const DOORS = ['front-left', 'front-right'] as const;
const CODECS: Codec[] = ['none', 'mp3', 'aac'];

/** Two doors, and a converter with a wire: all that is needed, in the shortest track. */
function twoDoors(): Job {
  const job = readJob(
    readFileSync(new URL('../../shared/examples/hatchback.job.json', import.meta.url), 'utf8'),
  );
  job.channels = job.channels.filter(({ id }) => (DOORS as readonly string[]).includes(id));
  job.converter!.turnOn = 'remote-wire';
  return job;
}

interface Track {
  name: string;
  contents: RunContent[];
  run: RunTrack;
}

const JOB = twoDoors();
const TRACKS: Track[] = [
  { name: 'short', contents: ['identification', 'reduced', 'noise', 'polarity', 'full'] },
  {
    name: 'whole',
    contents: ['identification', 'reduced', 'noise', 'polarity', 'full', 'honesty', 'response'],
  },
].map(({ name, contents }) => {
  const options = { ...usualRunOptions(JOB), contents: contents as RunContent[], silenceSeconds: 2 };
  return {
    name,
    contents: contents as RunContent[],
    run: { file: 'run.wav', ...runTrack(JOB, options, RATE_HZ) },
  };
});

interface Chain {
  recipe: ChainRecipe;
  track: Track;
}

/** Everything at random, each fault in about every third chain, so that a quarter of the chains have none. */
function anyChain(seed: number): Chain {
  const uniform = seededUniform(seed);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(uniform() * list.length)]!;
  const between = (low: number, high: number) => low + (high - low) * uniform();
  const chance = (share: number) => uniform() < share;
  const track = TRACKS[chance(0.25) ? 1 : 0]!;
  const isFaulty = chance(0.75);
  const faultySide = () => (isFaulty && chance(0.35) ? pick([0, 1]) : null);
  const [clips, reversed, low, misfiltered] = [faultySide(), faultySide(), faultySide(), faultySide()];
  const commonDb = between(-12, 0);
  const hasFilters = track.contents.includes('response');
  const wrongHz = pick([40, 160, null]);
  const lowDb = between(1, 6);
  const overdriveDb = between(0.5, 4);
  const cut = chance(0.2) ? pick(['start', 'end']) : null;
  const { markers, parts } = track.run;
  const softTones = parts.find(({ id }) => id === 'front-left-reduced')!.startSeconds;
  return {
    track,
    recipe: {
      seed,
      codec: pick(CODECS),
      codedBy: chance(0.25) ? 'recorder' : 'player',
      speed: 1 + between(-150e-6, 150e-6),
      recorderHz: pick([44_100, 48_000]),
      noiseDb: isFaulty && chance(0.35) ? 50 : null,
      junkSeconds: cut !== 'start' && chance(0.7) ? between(0.2, 1.5) : 0,
      lostSeconds: cut === 'start' ? between(markers.startSeconds + 0.26, softTones) : 0,
      endsSeconds: cut === 'end' ? markers.endSeconds - between(0, 0.15) : null,
      format: pick(['pcm_s16le', 'pcm_s24le', 'pcm_f32le']),
      sides: [0, 1].map((side) => ({
        gainDb: commonDb - (side === low ? lowDb : 0),
        inverted: side === reversed,
        overdriveDb: side === clips ? overdriveDb : null,
        highPassHz: hasFilters && side === misfiltered ? wrongHz : 80,
      })) as ChainRecipe['sides'],
    },
  };
}

/** What was put in, by the names that it should be given. */
function putIn({ recipe, track }: Chain): string[] {
  const [left, right] = recipe.sides;
  return recipe.sides
    .flatMap(({ inverted, overdriveDb, highPassHz, gainDb }, side) => {
      const partner = side === 0 ? right : left;
      const filter = highPassHz === null ? 'filter-missing' : 'filter-octave-off';
      return [
        ...(overdriveDb === null ? [] : ['clipped']),
        ...(inverted ? ['channel-reversed'] : []),
        ...(gainDb < partner.gainDb ? [side === 0 ? 'left-low' : 'right-low'] : []),
        ...(recipe.noiseDb === null ? [] : ['noise-high']),
        ...(highPassHz !== 80 && track.contents.includes('response') ? [filter] : []),
      ].map((fault) => `${DOORS[side]}: ${fault}`);
    })
    .sort();
}

/** Parts behind the start marker that begin before the recording does. */
function lostParts({ recipe, track }: Chain): string[] {
  const { parts, markers } = track.run;
  const behind = parts.filter(({ startSeconds }) => startSeconds > markers.startSeconds);
  return behind.filter(({ startSeconds }) => startSeconds < recipe.lostSeconds).map(({ id }) => id);
}

const named = ({ faults }: CheckReport) => faults.map(({ channel, fault }) => `${channel}: ${fault}`).sort();

function partOf({ parts }: CheckReport, side: number, what: string): CheckedPart {
  const id = `${DOORS[side]}-${what}`;
  const found = parts.find((part) => part.id === id);
  if (found === undefined) throw new Error(`${id} is not among ${parts.map((part) => part.id).join(', ')}`);
  return found;
}

const played = new Map<string, string>();
/** What coding does to the level of a tone, by SoX, dB: one coder scales by itself. */
const codingGainDb = new Map<Codec, number>();

function soxLevelDb(path: string, run: RunTrack): number {
  const { startSeconds } = run.parts.find(({ id }) => id === 'front-left-reduced')!;
  // A second's half of the steady tone; what a coder delays by is a hundredth of that.
  const trim = ['trim', `${startSeconds + 0.2}`, '0.4'];
  const { stderr } = runSox(path, '-n', 'remix', '1', ...trim, 'stats');
  return Number(/RMS lev dB\s+(\S+)/.exec(stderr)?.[1]);
}

const BATCH = 20;
const CHAINS = 200;

describe.skipIf(lacks('sox', 'ffmpeg'))('a run track through chains of SoX and FFmpeg', () => {
  beforeAll(async () => {
    writeFileSync(cli.work('job.json'), JSON.stringify(JOB));
    for (const { name, run } of TRACKS) {
      const set = {
        format: 'kneepoint-tone-set',
        version: 1,
        sampleRateHz: RATE_HZ,
        bits: 16,
        jobId: JOB.id,
      };
      writeFileSync(cli.work(`${name}.json`), JSON.stringify({ ...set, tracks: [run] }));
      const wav = cli.work(`${name}.wav`);
      writeFileSync(wav, Buffer.concat([...runWav(run, { sampleRateHz: RATE_HZ, bits: 16, ditherSeed: 1 })]));
      for (const codec of CODECS) played.set(`${name} ${codec}`, await playersFile(wav, codec));
    }
    const level = (codec: Codec) => soxLevelDb(played.get(`short ${codec}`)!, TRACKS[0]!.run);
    for (const codec of CODECS) codingGainDb.set(codec, level(codec) - level('none'));
  }, 120_000);
  afterAll(() => rmSync(cli.work('chains'), { recursive: true, force: true }));

  it.each(Array.from({ length: CHAINS / BATCH }, (_, batch) => batch))(
    'batch %i of twenty chains',
    async (batch) => {
      mkdirSync(cli.work('chains'), { recursive: true });
      const chains = Array.from({ length: BATCH }, (_, at) => anyChain(1 + batch * BATCH + at));
      const files: string[] = [];
      for (let at = 0; at < chains.length; at += 2) {
        files.push(...(await Promise.all(chains.slice(at, at + 2).map(record))));
      }
      const reports = checkedReports(chains, files);
      for (const [at, chain] of chains.entries()) judge(chain, reports[at]!);
      rmSync(cli.work('chains'), { recursive: true });
    },
  );

  function record({ recipe, track }: Chain): Promise<string> {
    const from = played.get(`${track.name} ${recipe.codedBy === 'player' ? recipe.codec : 'none'}`)!;
    return recorded(from, recipe, cli.work(`chains/${recipe.seed}.wav`));
  }

  /** One command for each track, with all its recordings. */
  function checkedReports(chains: readonly Chain[], files: readonly string[]): CheckReport[] {
    const reports: CheckReport[] = [];
    for (const { name } of TRACKS) {
      const own = chains.flatMap(({ track }, at) => (track.name === name ? [at] : []));
      if (own.length === 0) continue;
      const paths = own.map((at) => files[at]!);
      const options = ['--manifest', `${name}.json`, '--job', 'job.json', '--at', DOORS.join(), '--json'];
      const ended = cli.run('check', ...paths, ...options);
      expect(ended.stderr).toBe('');
      const document = JSON.parse(ended.stdout) as { files?: CheckReport[] } & CheckReport;
      const found = document.files ?? [document];
      own.forEach((at, index) => {
        reports[at] = found[index]!;
      });
      expect(ended.status).toBe(found.every(({ pass }) => pass) ? 0 : 1);
    }
    return reports;
  }

  function judge(chain: Chain, report: CheckReport): void {
    const { recipe } = chain;
    const about = JSON.stringify(recipe);
    expect.soft(named(report), about).toEqual(putIn(chain));
    const lost = lostParts(chain);
    expect.soft(report.missing, about).toEqual(lost);
    expect.soft(report.pass, about).toBe(putIn(chain).length === 0 && lost.length === 0);
    const { startFound, endFound } = report.markers;
    expect.soft({ startFound, endFound }, about).toEqual({
      startFound: recipe.lostSeconds === 0,
      endFound: recipe.endsSeconds === null,
    });
    expect.soft(Math.abs(report.markers.clockSkewPpm! - (1 / recipe.speed - 1) * 1e6), about).toBeLessThan(2);
    const codedDb = codingGainDb.get(recipe.codec)!;
    for (const [side, { gainDb, overdriveDb }] of recipe.sides.entries()) {
      const reduced = partOf(report, side, 'reduced');
      expect
        .soft(Math.abs((reduced.reading.levelDbfs as number) - (FULL_DBFS - 20 + gainDb + codedDb)), about)
        .toBeLessThan(0.1);
      const full = partOf(report, side, 'level').reading;
      if (overdriveDb === null) {
        expect
          .soft(Math.abs((full.levelDbfs as number) - (FULL_DBFS + gainDb + codedDb)), about)
          .toBeLessThan(0.1);
      } else {
        // What the player's coder takes off is not there to be cut.
        const over = overdriveDb + (recipe.codedBy === 'player' ? codedDb : 0);
        expect.soft(Math.abs((full.overdriveDb as number) - over), about).toBeLessThan(0.1);
      }
    }
    if (recipe.noiseDb !== null && (recipe.codec === 'none' || recipe.codedBy === 'player')) {
      const silence = report.parts.find(({ id }) => id === 'silence')!;
      // Of white noise over half the rate, what lies between 20 Hz and 20 kHz.
      const inBand = 10 * Math.log10((20_000 - 20) / (recipe.recorderHz / 2));
      const levelDbfs = 20 * Math.log10(noiseRms(recipe) * Math.SQRT2) + inBand;
      expect.soft(Math.abs((silence.reading.levelDbfs as number) - levelDbfs), about).toBeLessThan(0.1);
    }
  }
});
