import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

export default defineConfig({
  root: 'src/ui',
  base: './',
  publicDir: false,
  plugins: [react()],
  worker: { format: 'es' },
  build: {
    outDir: '../../dist/app',
    emptyOutDir: true,
    target: 'es2022',
    // An inlined worklet would be a data: address, which the page's own
    // content policy forbids.
    assetsInlineLimit: 0,
  },
});
