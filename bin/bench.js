// `npm run bench`: figures and ratios of one run, as a table and as JSON; `-- --large` measures a 4 GiB file too.
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ensureInstalled, root } from './install.js';

ensureInstalled();
const asJson = process.argv.includes('--json');
const { build } = await import('vite');
await build({ configFile: join(root, 'vite.config.ts'), logLevel: 'error' });
await build({ configFile: join(root, 'vite.cli.config.ts'), logLevel: 'error' });
// Built, not run through a module runner, so that what is timed is what ships.
const outDir = join(root, 'dist', 'bench');
await build({
  configFile: false,
  root,
  publicDir: false,
  logLevel: 'error',
  build: {
    ssr: 'tests/bench/main.ts',
    outDir,
    emptyOutDir: true,
    target: 'node20',
    rollupOptions: { output: { entryFileNames: 'bench.js' } },
  },
});
const { runBench, table } = await import(pathToFileURL(join(outDir, 'bench.js')).href);
const report = await runBench(root, process.argv.includes('--large'));
const json = JSON.stringify(report, null, 2);
mkdirSync(join(root, '.cache'), { recursive: true });
writeFileSync(join(root, '.cache', 'bench.json'), `${json}\n`);
console.log(
  asJson ? json : `${table(report)}\n\nThe same as JSON: .cache/bench.json (or: npm run bench -- --json)`,
);
