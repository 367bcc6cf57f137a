// `npm run screenshots -- FOLDER`: the stations on phone and laptop, by day and by night.
import { join, resolve } from 'node:path';
import { ensureInstalled, root } from './install.js';

const [folder] = process.argv.slice(2);
if (!folder) {
  console.error('screenshots: no folder given; npm run screenshots -- FOLDER would be right.');
  process.exit(2);
}
ensureInstalled();
const { runnerImport } = await import('vite');
const { module } = await runnerImport(join(root, 'tests', 'browser', 'screenshots.ts'));
for (const path of await module.takeScreenshots(resolve(folder))) console.log(path);
