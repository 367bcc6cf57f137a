import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';

const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));

/** Floors from the ground up, with what each may stand on (design, section 3). */
const standsOn: Record<string, string[]> = {
  dsp: [],
  plan: [],
  procedure: ['dsp', 'plan'],
  rig: ['dsp', 'plan'],
  job: ['plan', 'procedure'],
  audio: ['dsp', 'rig'],
  ui: ['dsp', 'plan', 'procedure', 'rig', 'job', 'audio'],
  cli: ['dsp', 'plan', 'procedure', 'rig', 'job', 'audio'],
};
const floors = Object.keys(standsOn);

let house = '';

function put(path: string, text: string): void {
  mkdirSync(dirname(join(house, path)), { recursive: true });
  writeFileSync(join(house, path), text);
}

/** Runs the project's own lint rules over the little house; returns what they said. */
function lint(): { ok: boolean; said: string } {
  const biome = join(root, 'node_modules', '@biomejs', 'biome', 'bin', 'biome');
  const run = spawnSync(process.execPath, [biome, 'lint', '--colors=off', '--max-diagnostics=none', 'src'], {
    cwd: house,
    encoding: 'utf8',
  });
  return { ok: run.status === 0, said: run.stdout + run.stderr };
}

beforeEach(() => {
  house = mkdtempSync(join(tmpdir(), 'kneepoint-floors-'));
  for (const file of ['biome.json', '.gitignore']) copyFileSync(join(root, file), join(house, file));
  for (const floor of floors) put(`src/${floor}/part.ts`, `export const ${floor} = 1;\n`);
});

afterEach(() => rmSync(house, { recursive: true, force: true }));

describe('the house keeps its floors', () => {
  it('lets every floor import what it stands on', () => {
    for (const [floor, below] of Object.entries(standsOn)) {
      const imports = below.map((name) => `import { ${name} } from '../${name}/part.ts';`);
      put(`src/${floor}/user.ts`, `${imports.join('\n')}\nexport const all = [${below.join(', ')}];\n`);
    }
    expect(lint()).toMatchObject({ ok: true });
  });

  it('refuses every import that runs back up or across', () => {
    const forbidden: string[] = [];
    for (const floor of floors) {
      for (const other of floors) {
        if (other === floor || standsOn[floor]?.includes(other)) continue;
        const path = `src/${floor}/up-to-${other}.ts`;
        put(path, `export { ${other} } from '../${other}/part.ts';\n`);
        forbidden.push(path);
      }
    }
    const { said } = lint();
    const missed = forbidden.filter((path) => !new RegExp(`${path}:.*noRestrictedImports`).test(said));
    expect(missed).toEqual([]);
  });

  it('refuses a circle inside one floor', () => {
    put('src/dsp/one.ts', "export { two } from './two.ts';\nexport const one = 1;\n");
    put('src/dsp/two.ts', "export { one } from './one.ts';\nexport const two = 2;\n");
    expect(lint().said).toMatch(/one\.ts:.*noImportCycles/);
  });

  it('keeps screen, device and file system out of the lower floors', () => {
    put('src/plan/reads.ts', "import { readFileSync } from 'node:fs';\nexport const read = readFileSync;\n");
    put('src/dsp/draws.ts', "import { useState } from 'react';\nexport const draw = useState;\n");
    const { said } = lint();
    expect(said).toMatch(/reads\.ts:.*noRestrictedImports/);
    expect(said).toMatch(/draws\.ts:.*noRestrictedImports/);
  });
});
