import { defineConfig } from 'vite';

export default defineConfig({
  build: {
    ssr: true,
    outDir: 'dist/cli',
    target: 'node20',
    rolldownOptions: {
      input: {
        main: 'src/cli/main.ts',
        'relate-worker': 'src/cli/relate-worker.ts',
        index: 'src/index.ts',
        bench: 'test/bench/main.ts',
        accuracy: 'test/accuracy/main.ts',
        'accuracy-worker': 'test/accuracy/worker.ts',
      },
      output: {
        entryFileNames: '[name].js',
        format: 'es',
        banner: (chunk) => (chunk.name === 'main' ? '#!/usr/bin/env node' : ''),
      },
    },
  },
});
