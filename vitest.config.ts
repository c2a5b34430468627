import { playwright } from '@vitest/browser-playwright';
import { defineConfig } from 'vitest/config';
import { chromiumArgs, chromiumPath } from './test/support/chromium.mjs';
import { isolation } from './vite.config.ts';

export default defineConfig({
  worker: { format: 'es' },
  optimizeDeps: { exclude: ['highs'] },
  test: {
    projects: [
      {
        extends: true,
        test: {
          name: 'node',
          environment: 'node',
          include: ['test/**/*.test.ts'],
          exclude: ['test/**/*.browser.test.ts', 'test/app/**', 'test/accuracy/**', 'test/bench/**'],
          testTimeout: 60_000,
        },
      },
      {
        extends: true,
        server: { headers: isolation },
        test: {
          name: 'browser',
          include: ['test/**/*.browser.test.ts'],
          browser: {
            enabled: true,
            headless: true,
            screenshotFailures: false,
            provider: playwright({ launchOptions: { executablePath: chromiumPath(), args: chromiumArgs } }),
            instances: [{ browser: 'chromium' }],
          },
        },
      },
      {
        extends: true,
        test: {
          name: 'app',
          environment: 'node',
          include: ['test/app/**/*.test.ts'],
          testTimeout: 180_000,
          hookTimeout: 180_000,
          fileParallelism: false,
        },
      },
    ],
  },
});
