#!/usr/bin/env node
// Runs the built command line. `npm ci` builds it (the prepare script).
import { existsSync } from 'node:fs';

const built = new URL('../dist/cli/kneepoint.js', import.meta.url);

if (existsSync(built)) {
  const { main } = await import(built.href);
  process.exitCode = await main(process.argv.slice(2));
} else {
  process.stderr.write(
    'kneepoint: The command line is not built yet; run "npm ci" in the project folder first.\n',
  );
  process.exitCode = 2;
}
