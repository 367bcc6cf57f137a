// `npm run dev`: the app with hot reload, for whoever changes it.
import { join } from 'node:path';
import { ensureInstalled, root } from './install.js';

ensureInstalled();
const { createServer } = await import('vite');
const server = await createServer({
  configFile: join(root, 'vite.config.ts'),
  server: { host: process.env.HOST ?? '127.0.0.1', port: Number(process.env.PORT ?? 4171) },
});
await server.listen();
server.printUrls();
