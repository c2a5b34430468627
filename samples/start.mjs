// npm start: builds, writes the sample set, inspects it, says what came out and where the report lies, then serves the
// app with the sample open. With --no-open it stops after the report.
import { spawn, spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const CLI = 'dist/cli/main.js';
const FOLDER = 'sample-data';
const NOMINAL = `${FOLDER}/nominal-sections.csv`;
const SCAN = `${FOLDER}/finished-scan.ply`;
const PLAN = ['--plan', `${FOLDER}/plan.json`];
/** Exit codes of a job that was done, whatever it found. */
const DONE = [0, 1, 4];

function run(program, args, good, stdio = 'inherit') {
  const { status, error } = spawnSync(program, args, { cwd: ROOT, stdio });
  if (error !== undefined) throw error;
  if (!good.includes(status)) process.exit(status ?? 1);
}
const node = (args, good = [0], stdio = 'inherit') => run(process.execPath, args, good, stdio);

const [major, minor] = process.versions.node.split('.').map(Number);
if (major < 20 || (major === 20 && minor < 19)) {
  console.error(`Node ${process.versions.node} is too old: install Node 20.19 or newer.`);
  process.exit(1);
}
if (!existsSync(`${ROOT}/node_modules/vite`)) {
  console.error('Installing packages …');
  run(process.platform === 'win32' ? 'npm.cmd' : 'npm', ['ci'], [0]);
}
console.error('Building …');
for (const config of ['vite.config.ts', 'vite.cli.config.ts'])
  node(['node_modules/vite/bin/vite.js', 'build', '-c', config, '--logLevel', 'warn'], [0], ['ignore', 2, 2]);
console.error('Writing the sample set …');
node([CLI, 'sample', FOLDER, '--force', '--quiet'], [0], ['ignore', 2, 2]);
console.error('Inspecting the sample blade …');
node([CLI, 'inspect', NOMINAL, SCAN, ...PLAN], DONE);

if (!process.argv.includes('--no-open')) {
  const app = spawn(process.execPath, [CLI, 'open', NOMINAL, SCAN, ...PLAN], { cwd: ROOT, stdio: 'inherit' });
  // Ctrl-C at a terminal reaches the app by itself; a signal sent to this process alone is handed on.
  process.on('SIGINT', () => process.stdin.isTTY || app.kill('SIGINT'));
  process.on('SIGTERM', () => app.kill('SIGTERM'));
  app.on('exit', (code) => {
    process.exitCode = code ?? 0;
  });
}
