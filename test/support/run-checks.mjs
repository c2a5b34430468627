// The whole check: format and lint, types, build, tests in Node and Chromium. Last line: "N passed, N failed".
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { getChromium, NO_CHROMIUM } from './get-chromium.mjs';

const REPORT = 'test-results.json';

const STAGES = [
  ['format and lint', 'node_modules/@biomejs/biome/bin/biome', ['check', '--error-on-warnings']],
  ['types', 'node_modules/typescript/bin/tsc', ['--noEmit', '-p', 'tsconfig.json']],
  ['types without the DOM', 'node_modules/typescript/bin/tsc', ['--noEmit', '-p', 'tsconfig.core.json']],
  ['build the app', 'node_modules/vite/bin/vite.js', ['build', '--logLevel', 'warn']],
  [
    'build the command line',
    'node_modules/vite/bin/vite.js',
    ['build', '-c', 'vite.cli.config.ts', '--logLevel', 'warn'],
  ],
];

function stage(name, program, args) {
  const start = Date.now();
  console.log(`== ${name}`);
  const { status } = spawnSync(process.execPath, [program, ...args], { stdio: 'inherit' });
  console.log(`== ${name}: ${status === 0 ? 'good' : 'FAILED'} (${((Date.now() - start) / 1000).toFixed(1)} s)`);
  return status === 0;
}

/** Runs the tests; counts what passed and failed. A run that ends badly without a failed test counts as one. */
function tests(withBrowser) {
  rmSync(REPORT, { force: true });
  const projects = withBrowser ? [] : ['--project', 'node'];
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${REPORT}`];
  const good = stage('tests', 'node_modules/vitest/vitest.mjs', ['run', ...reporters, ...projects]);
  if (!existsSync(REPORT)) return { passed: 0, failed: 1 };
  const { numPassedTests: passed, numFailedTests: failed, success } = JSON.parse(readFileSync(REPORT, 'utf8'));
  return { passed, failed: failed === 0 && !(good && success) ? 1 : failed };
}

const broken = STAGES.filter((each) => !stage(...each)).map(([name]) => name);
const chromium = getChromium();
const { passed, failed } = tests(chromium !== undefined);
if (chromium === undefined) broken.push('tests in Chromium');
if (broken.length > 0) console.log(`Failed outside the tests: ${broken.join(', ')}.`);
if (chromium === undefined) console.log(NO_CHROMIUM);
const total = failed + broken.length;
console.log(`${passed} passed, ${total} failed`);
process.exitCode = total === 0 ? 0 : 1;
