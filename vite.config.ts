import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

export default defineConfig({
  root: 'src/ui',
  base: './',
  publicDir: false,
  plugins: [react()],
  worker: { format: 'es' },
  preview: {
    headers: {
      'Permissions-Policy': 'microphone=(self), screen-wake-lock=(self), speaker-selection=(self)',
      'Content-Security-Policy': [
        "default-src 'self'",
        "style-src 'self' 'unsafe-inline'",
        "img-src 'self' data: blob:",
        "media-src 'self' blob:",
        "font-src 'self' data:",
        "worker-src 'self' blob:",
        "object-src 'none'",
        "base-uri 'self'",
      ].join('; '),
      'X-Content-Type-Options': 'nosniff',
    },
  },
  build: {
    outDir: '../../dist/app',
    emptyOutDir: true,
    target: 'es2022',
    // An inlined worklet would be a data: address, which the page's own
    // content policy forbids.
    assetsInlineLimit: 0,
  },
});
