/**
 * Independent programs to check against: Python with scipy, SoX, FFmpeg.
 *
 * Where one is missing, a test is skipped with the reason printed; in CI
 * (`CI` set) it is a failure, so that no check goes quiet unnoticed.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const MOST_OUTPUT_BYTES = 256 * 1024 * 1024;

function answers(program: string, args: string[]): boolean {
  return spawnSync(program, args, { stdio: 'ignore' }).status === 0;
}

function findPython(): string | null {
  const candidates = ['/usr/bin/python3', 'python3'];
  return candidates.find((program) => answers(program, ['-c', 'import numpy, scipy.signal'])) ?? null;
}

const python = findPython();

const missingOracles: readonly string[] = [
  ...(python === null ? ['python3 with scipy'] : []),
  ...(answers('sox', ['--version']) ? [] : ['sox']),
  ...(answers('ffmpeg', ['-version']) ? [] : ['ffmpeg']),
];

if (missingOracles.length > 0) {
  const sentence = `Independent programs are missing: ${missingOracles.join(', ')} (Debian: python3-scipy, sox, ffmpeg).`;
  if (process.env.CI) throw new Error(sentence);
  process.stderr.write(`${sentence} Tests that need them are skipped.\n`);
}

/** For `describe.skipIf`: true where a named program is missing, outside CI. */
export function lacks(...programs: ('python' | 'sox' | 'ffmpeg')[]): boolean {
  return programs.some((program) => missingOracles.some((missing) => missing.startsWith(program)));
}

/**
 * Runs a Python program out of `tests/reference/oracle/` and reads the JSON it prints.
 *
 * @param args reach it as `sys.argv[1:]`
 * @param input reaches it as standard input
 */
export function runPython(scriptFile: string, args: readonly string[] = [], input = ''): unknown {
  const script = fileURLToPath(new URL(`./oracle/${scriptFile}`, import.meta.url));
  const printed = execFileSync(python ?? 'python3', [script, ...args], {
    input,
    encoding: 'utf8',
    maxBuffer: MOST_OUTPUT_BYTES,
  });
  return JSON.parse(printed);
}

/** SoX prints its statistics to standard error; both streams come back. */
export function runSox(...args: string[]): { stdout: Buffer; stderr: string } {
  return run('sox', args);
}

export function runFfmpeg(...args: string[]): { stdout: Buffer; stderr: string } {
  return run('ffmpeg', ['-hide_banner', '-nostdin', '-y', ...args]);
}

function run(program: string, args: string[]): { stdout: Buffer; stderr: string } {
  const ended = spawnSync(program, args, { maxBuffer: MOST_OUTPUT_BYTES });
  const stderr = ended.stderr?.toString() ?? '';
  if (ended.status !== 0) throw new Error(`${program} ${args.join(' ')} failed: ${stderr || ended.error}`);
  return { stdout: ended.stdout, stderr };
}
