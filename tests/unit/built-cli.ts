/**
 * The command line as its users get it: built once for each test file into a
 * folder of its own, laid out as in the project, and run as a program.
 */
import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';
import { afterAll, beforeAll } from 'vitest';

const project = fileURLToPath(new URL('../../', import.meta.url));

export interface Ended {
  status: number | null;
  stdout: string;
  stderr: string;
}

export interface BuiltCli {
  /** Runs `kneepoint` with these arguments in `work`. */
  run(...args: string[]): Ended;
  /** Path of a file in the folder that the program runs in. */
  work(name: string): string;
  /** Everything that lies in that folder, at any depth. */
  listing(): string[];
  /** Where the program lies: `bin/kneepoint.js` and `dist/cli` under it. */
  home(): string;
}

export function builtCli(): BuiltCli {
  let folder = '';
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'kneepoint-cli-'));
    mkdirSync(join(folder, 'work'));
    mkdirSync(join(folder, 'home', 'bin'), { recursive: true });
    writeFileSync(join(folder, 'home', 'package.json'), '{ "type": "module" }');
    copyFileSync(join(project, 'bin/kneepoint.js'), join(folder, 'home/bin/kneepoint.js'));
    await build({
      root: project,
      configFile: join(project, 'vite.cli.config.ts'),
      logLevel: 'error',
      build: { outDir: join(folder, 'home/dist/cli'), emptyOutDir: true },
    });
  }, 60_000);
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return {
    run(...args) {
      const { status, stdout, stderr } = spawnSync(
        process.execPath,
        [join(folder, 'home/bin/kneepoint.js'), ...args],
        { cwd: join(folder, 'work'), encoding: 'utf8', maxBuffer: 64 * 1024 * 1024 },
      );
      return { status, stdout, stderr };
    },
    work: (name) => join(folder, 'work', name),
    listing: () => readdirSync(join(folder, 'work'), { recursive: true }).map(String).sort(),
    home: () => join(folder, 'home'),
  };
}
