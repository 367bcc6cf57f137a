import { defineConfig } from 'vite';

export default defineConfig({
  publicDir: false,
  build: {
    ssr: true,
    outDir: 'dist/cli',
    emptyOutDir: true,
    target: 'node20',
    rollupOptions: {
      // What `measure` and `check` start their workers from must lie beside the first.
      input: {
        kneepoint: 'src/cli/main.ts',
        'measure-worker': 'src/cli/measure/measure.worker.ts',
        'check-worker': 'src/cli/check/check.worker.ts',
      },
      output: { entryFileNames: '[name].js', chunkFileNames: '[name].js' },
    },
  },
  ssr: { noExternal: true },
});
