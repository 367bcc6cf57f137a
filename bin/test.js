// `npm test`: type check, lint, unit, reference and browser tests, one count at the end.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { ensureInstalled, root } from './install.js';
import { ensureTestPrograms } from './test-programs.js';

const reportFile = join(root, '.cache', 'vitest.json');
const count = { passed: 0, failed: 0, skipped: 0 };

/** Runs a tool of node_modules and counts it as one test. */
function step(title, script, args) {
  const started = Date.now();
  const { status } = spawnSync(process.execPath, [join(root, 'node_modules', script), ...args], {
    cwd: root,
    stdio: 'inherit',
  });
  const passed = status === 0;
  count[passed ? 'passed' : 'failed'] += 1;
  console.log(`${passed ? 'ok    ' : 'FAILED'} ${title} (${((Date.now() - started) / 1000).toFixed(1)} s)`);
  return passed;
}

function staticChecks() {
  for (const file of readdirSync(join(root, 'tsconfig')).filter((name) => name !== 'base.json')) {
    step(`types: ${file.replace('.json', '')}`, 'typescript/bin/tsc', ['-p', join('tsconfig', file)]);
  }
  step('lint, format and floors', '@biomejs/biome/bin/biome', ['check', '--error-on-warnings', '.']);
  step('nothing is unused, nothing undeclared', 'knip/bin/knip.js', ['--no-progress']);
}

/** A test file that can't be loaded has no tests to count, so the file itself is counted. */
function countTests(exitCode) {
  if (!existsSync(reportFile)) {
    console.log('FAILED vitest left no report');
    count.failed += 1;
    return;
  }
  const report = JSON.parse(readFileSync(reportFile, 'utf8'));
  const unloaded = report.testResults.filter(
    (file) => file.status === 'failed' && file.assertionResults.every((test) => test.status !== 'failed'),
  );
  for (const file of unloaded) console.log(`FAILED ${file.name}: ${file.message}`);
  count.passed += report.numPassedTests;
  count.failed += report.numFailedTests + unloaded.length;
  count.skipped += report.numPendingTests + report.numTodoTests;
  if (exitCode !== 0 && report.numFailedTests + unloaded.length === 0) {
    console.log('FAILED vitest ended with an error outside any test: see above');
    count.failed += 1;
  }
}

function vitest(extraArguments) {
  mkdirSync(join(root, '.cache'), { recursive: true });
  rmSync(reportFile, { force: true });
  const { status } = spawnSync(
    process.execPath,
    [
      join(root, 'node_modules', 'vitest', 'vitest.mjs'),
      'run',
      '--reporter=default',
      '--reporter=json',
      `--outputFile.json=${reportFile}`,
      ...extraArguments,
    ],
    { cwd: root, stdio: 'inherit' },
  );
  countTests(status);
}

ensureInstalled();
const absent = await ensureTestPrograms();
if (absent.length > 0) console.log(`Not found, so what needs them is skipped: ${absent.join(', ')}.`);
staticChecks();
const built =
  step('build: app', 'vite/bin/vite.js', ['build', '--logLevel', 'warn']) &&
  step('build: command line', 'vite/bin/vite.js', [
    'build',
    '--config',
    'vite.cli.config.ts',
    '--logLevel',
    'warn',
  ]);
if (built) vitest(process.argv.slice(2));
if (count.skipped > 0) console.log(`${count.skipped} skipped`);
console.log(`${count.passed} passed, ${count.failed} failed`);
process.exit(count.failed > 0 || count.passed === 0 ? 1 : 0);
