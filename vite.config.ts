import { defineConfig } from 'vite';

export const isolation = {
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Embedder-Policy': 'require-corp',
};

export default defineConfig({
  base: './',
  server: { headers: isolation },
  preview: { headers: isolation },
  worker: { format: 'es' },
  // Its WebAssembly lies beside it; bundled beforehand it would not be found.
  optimizeDeps: { exclude: ['highs'] },
  build: { target: 'es2022', outDir: 'dist/app', assetsInlineLimit: 0, chunkSizeWarningLimit: 900 },
});
