// `npm start`: install what is missing, build, serve, print the address.
import { createServer } from 'node:net';
import { join } from 'node:path';
import { ensureInstalled, root } from './install.js';

const host = process.env.HOST ?? '127.0.0.1';
const port = Number(process.env.PORT ?? 4170);

if (!Number.isInteger(port) || port < 1 || port > 65535) {
  console.error(`PORT is "${process.env.PORT}": a whole number from 1 to 65535 would be right.`);
  process.exit(2);
}

function refusePort(error) {
  const reason =
    error.code === 'EADDRINUSE' ? 'is taken' : `can't be opened (${error.code ?? error.message})`;
  console.error(`Port ${port} ${reason}: stop what uses it, or choose another with PORT=….`);
  process.exit(1);
}

/** Asked before the build, so that a second start says so at once. */
function probePort() {
  return new Promise((resolve) => {
    const probe = createServer();
    probe.once('error', refusePort);
    probe.listen(port, host, () => probe.close(resolve));
  });
}

await probePort();
ensureInstalled();
const { build, preview } = await import('vite');
const configFile = join(root, 'vite.config.ts');
await build({ configFile, logLevel: 'warn' });
const server = await preview({
  configFile,
  logLevel: 'error',
  preview: { host, port, strictPort: true },
}).catch(() => refusePort({ code: 'EADDRINUSE' }));

for (const signal of ['SIGINT', 'SIGTERM']) {
  process.once(signal, () => server.close().finally(() => process.exit(0)));
}
console.log(`Kneepoint runs until it is interrupted (Ctrl+C). The practice rig is at /?rig=demo.`);
console.log(`http://${host.includes(':') ? `[${host}]` : host}:${port}/`);
