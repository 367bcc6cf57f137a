/**
 * A vehicle made of general-purpose programs: SoX plays the run track through a clock of its own and the filters,
 * FFmpeg codes it, sets gains, limits, turns over, adds noise and junk, and writes what a recorder would.
 */
import { execFile } from 'node:child_process';
import { promisify } from 'node:util';

const run = promisify(execFile);

export type Codec = 'none' | 'mp3' | 'aac';

/** What is done to one side. */
interface SideRecipe {
  gainDb: number;
  inverted: boolean;
  /** How far over its ceiling the full tone drives it; `null` for none. */
  overdriveDb: number | null;
  /** Corner of the fourth-order Linkwitz-Riley high-pass; `null` for none at all. */
  highPassHz: number | null;
}

export interface ChainRecipe {
  seed: number;
  /** Where lossy coding happens: the player's file, or the recorder's. */
  codec: Codec;
  codedBy: 'player' | 'recorder';
  /** SoX's `speed`: above 1 the player runs fast, so the recorder counts fewer frames. */
  speed: number;
  recorderHz: 44_100 | 48_000;
  /** dB under the full tone; `null` for none. */
  noiseDb: number | null;
  junkSeconds: number;
  /** Of the recording's beginning, before the junk is put there; 0 for none. */
  lostSeconds: number;
  /** Where the recording ends, before anything is lost of its beginning; `null` for behind the track. */
  endsSeconds: number | null;
  format: 'pcm_s16le' | 'pcm_s24le' | 'pcm_f32le';
  sides: [SideRecipe, SideRecipe];
}

/** The full tone: minus the overlap. */
export const FULL_DBFS = -5;

const CODERS = { mp3: { coder: 'libmp3lame', ending: 'mp3' }, aac: { coder: 'aac', ending: 'm4a' } } as const;

async function ffmpeg(...args: string[]): Promise<void> {
  await run('ffmpeg', ['-hide_banner', '-nostdin', '-loglevel', 'error', '-y', ...args]);
}

async function coded(from: string, codec: Codec): Promise<string> {
  if (codec === 'none') return from;
  const { coder, ending } = CODERS[codec];
  const [packed, unpacked] = [`${from}.${ending}`, `${from}.${codec}.wav`];
  await ffmpeg('-i', from, '-c:a', coder, '-b:a', '128k', packed);
  await ffmpeg('-i', packed, '-c:a', 'pcm_f32le', unpacked);
  return unpacked;
}

/** The player's file, coded where the player codes: the same for many chains. */
export async function playersFile(track: string, codec: Codec): Promise<string> {
  return coded(track, codec);
}

function filtersOf(sides: ChainRecipe['sides']): string[] {
  const corners = sides.map(({ highPassHz }) => highPassHz);
  if (corners[0] !== corners[1]) throw new Error('Sides that differ are filtered one by one.');
  return highPass(corners[0] ?? null);
}

/** Two of SoX's second-order sections of Q 0.707: Linkwitz-Riley of fourth order. */
function highPass(cutoffHz: number | null): string[] {
  return cutoffHz === null ? [] : ['highpass', `${cutoffHz}`, 'highpass', `${cutoffHz}`];
}

const FLOAT = ['-e', 'floating-point', '-b', '32'];

/** SoX: the player's clock, the filters, the recorder's rate. */
async function filtered(played: string, recipe: ChainRecipe, out: string): Promise<void> {
  const { speed, recorderHz, sides } = recipe;
  const clock = ['speed', `${speed}`, 'rate', '-v', `${recorderHz}`];
  if (sides[0].highPassHz === sides[1].highPassHz) {
    await run('sox', ['-D', played, ...FLOAT, out, ...filtersOf(sides), ...clock]);
    return;
  }
  const mono = await Promise.all(
    sides.map(async ({ highPassHz }, side) => {
      const path = `${out}.${side}.wav`;
      await run('sox', [
        '-D',
        played,
        ...FLOAT,
        path,
        'remix',
        `${side + 1}`,
        ...highPass(highPassHz),
        ...clock,
      ]);
      return path;
    }),
  );
  await run('sox', ['-D', '-M', ...mono, ...FLOAT, out]);
}

/** One side's sample as FFmpeg's expression: gain, polarity, ceiling, noise of one seed for each side. */
function expression(
  { gainDb, inverted, overdriveDb }: SideRecipe,
  side: number,
  recipe: ChainRecipe,
): string {
  const gain = 10 ** (gainDb / 20);
  const scaled = `${inverted ? -gain : gain}*val(${side})`;
  const ceiling = overdriveDb === null ? null : gain * 10 ** ((FULL_DBFS - overdriveDb) / 20);
  const limited = ceiling === null ? scaled : `clip(${scaled},${-ceiling},${ceiling})`;
  if (recipe.noiseDb === null) return limited;
  // Uniform noise of width w has the RMS w / sqrt(12).
  const width = Math.sqrt(12) * noiseRms(recipe);
  const seed = 2 * recipe.seed + side + 1;
  return `if(eq(n,0),st(${side},${seed}),0)*0+${limited}+${width}*(random(${side})-0.5)`;
}

/** RMS against full scale 1.0, over half the recorder's rate: so far under a full tone at gain 0. */
export function noiseRms({ noiseDb }: ChainRecipe): number {
  return noiseDb === null ? 0 : Math.SQRT1_2 * 10 ** ((FULL_DBFS - noiseDb) / 20);
}

/** FFmpeg: everything else. */
async function spoilt(from: string, recipe: ChainRecipe, out: string): Promise<void> {
  const { sides, junkSeconds, lostSeconds, endsSeconds, recorderHz, format, seed } = recipe;
  const expressions = sides
    .map((side, at) => expression(side, at, recipe))
    .join('|')
    .replaceAll(',', '\\,');
  const end = endsSeconds === null ? '' : `:end=${endsSeconds}`;
  const trim = `atrim=start=${lostSeconds}${end},asetpts=N/SR/TB,`;
  const body = `[0:a]aeval=exprs=${expressions}:c=stereo,${trim}aformat=channel_layouts=stereo[body]`;
  const junk = `anoisesrc=d=${junkSeconds}:a=0.2:c=pink:r=${recorderHz}:seed=${seed},aformat=channel_layouts=stereo[junk]`;
  const graph =
    junkSeconds > 0 ? `${body};${junk};[junk][body]concat=n=2:v=0:a=1[out]` : body.replace('[body]', '[out]');
  await ffmpeg('-i', from, '-filter_complex', graph, '-map', '[out]', '-c:a', format, out);
}

/** @param played the player's file, coded already where the player codes */
export async function recorded(played: string, recipe: ChainRecipe, out: string): Promise<string> {
  await filtered(played, recipe, `${out}.filtered.wav`);
  await spoilt(`${out}.filtered.wav`, recipe, out);
  return recipe.codedBy === 'recorder' ? coded(out, recipe.codec) : out;
}
