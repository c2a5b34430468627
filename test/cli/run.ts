import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, rmdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
export const PROGRAM = join(ROOT, 'dist/cli/main.js');
const LOCK = join(ROOT, 'dist/.building-cli');

const changed = (path: string): number => statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? 0;

function newestSource(): number {
  const files = ['src', 'samples'].flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' }).map((name) => join(ROOT, folder, name)),
  );
  return Math.max(...files.map(changed));
}

/** Builds the command line when it is missing or older than its sources; one test file does it, the others wait. */
export async function buildOnce(): Promise<void> {
  mkdirSync(join(ROOT, 'dist'), { recursive: true });
  for (;;) {
    try {
      mkdirSync(LOCK);
      break;
    } catch {
      if (Date.now() - changed(LOCK) > 120_000) rmdirSync(LOCK);
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
  }
  try {
    if (changed(PROGRAM) >= newestSource()) return;
    const vite = join(ROOT, 'node_modules/vite/bin/vite.js');
    const args = [vite, 'build', '-c', 'vite.cli.config.ts', '--logLevel', 'error'];
    const { status, stderr } = spawnSync(process.execPath, args, { cwd: ROOT, encoding: 'utf8' });
    if (status !== 0) throw new Error(`The command line could not be built: ${stderr}`);
  } finally {
    rmdirSync(LOCK);
  }
}

export interface Outcome {
  code: number | null;
  stdout: string;
  stderr: string;
}

export interface Running {
  child: ChildProcess;
  /** Everything written so far. */
  seen: Outcome;
  ended: Promise<Outcome>;
}

/** Starts the built program; its streams are pipes, so no terminal manners apply. */
export function start(args: string[], environment: Record<string, string> = {}): Running {
  const env: Record<string, string | undefined> = { ...process.env, ...environment };
  const child = spawn(process.execPath, [PROGRAM, ...args], { env, stdio: ['ignore', 'pipe', 'pipe'] });
  const seen: Outcome = { code: null, stdout: '', stderr: '' };
  child.stdout.setEncoding('utf8').on('data', (text: string) => {
    seen.stdout += text;
  });
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    seen.stderr += text;
  });
  const ended = new Promise<Outcome>((resolve) => {
    child.on('close', (code) => {
      seen.code = code;
      resolve(seen);
    });
  });
  return { child, seen, ended };
}

/** Runs the built program to its end. */
export function run(args: string[], environment: Record<string, string> = {}): Promise<Outcome> {
  return start(args, environment).ended;
}
