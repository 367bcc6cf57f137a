// `npm run schemas`: writes the published JSON Schemas from the zod schemas they come from.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { ensureInstalled, root } from './install.js';

ensureInstalled();
const { runnerImport } = await import('vite');
const { module } = await runnerImport(join(root, 'src', 'job', 'published-schemas.ts'));
for (const { file, text } of module.publishedSchemas()) {
  writeFileSync(join(root, 'shared', file), text);
  console.error(`Wrote shared/${file}.`);
}
