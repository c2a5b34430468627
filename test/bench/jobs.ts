/** Whole jobs as a user runs them: nominal table and 1,000,000-point scan, from files to results and report. */
import { execFile } from 'node:child_process';
import { mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { deform, nominalBlade } from '../../samples/blade.ts';
import { shiftBlank } from '../../samples/blank-cases.ts';
import { makeBlankScan } from '../../samples/blank-scan.ts';
import { samplePlan } from '../../samples/plan.ts';
import { makeScan } from '../../samples/scan.ts';
import { poseOf } from '../../samples/scenario.ts';
import { evenHeights, exactSections } from '../../samples/tessellate.ts';
import { writePly } from '../../src/load/write-ply.ts';
import { writeSectionTable } from '../../src/load/write-section-table.ts';
import { spreadOf, table } from './rounds.ts';

const run = promisify(execFile);
const COUNT = 1_000_000;

/** Prints seconds and peak memory of `inspect` and of `stock` by the built command line. */
export async function benchJobs(rounds: number): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'camberwright-bench-'));
  const nominal = join(folder, 'nominal.csv');
  writeFileSync(nominal, writeSectionTable(exactSections(evenHeights(21), 400), { stateUnit: true }));
  const scan = join(folder, 'scan.ply');
  const blade = deform(nominalBlade(), { twistDeg: [0, 0.2], bow: [0, 0.06], thickness: [0.03] });
  const pose = poseOf([20, -40, 100], [30, 10, -50]);
  writeFileSync(scan, writePly(makeScan({ blade, points: COUNT, seed: 7, noise: 0.005, outliers: 0.001, pose }).cloud));
  const blank = join(folder, 'blank.ply');
  writeFileSync(blank, writePly(makeBlankScan(shiftBlank(), { points: COUNT, seed: 7, noise: 0.01 }).cloud));
  const plan = join(folder, 'plan.json');
  writeFileSync(plan, JSON.stringify(samplePlan()));
  await benchJob('inspect', [nominal, scan], folder, rounds);
  await benchJob('stock', [nominal, blank, '--plan', plan], folder, rounds);
  rmSync(folder, { recursive: true });
}

async function benchJob(name: string, files: string[], folder: string, rounds: number): Promise<void> {
  const built = new URL('./main.js', import.meta.url).href;
  const program = join(folder, 'run.mjs');
  const rows: string[][] = [['', 'median s', 'range s', 'peak memory MB']];
  for (const threads of ['1', '2']) {
    const seconds: number[] = [];
    let memory = 0;
    const out = join(folder, `${name}-${threads}`);
    const args = [name, ...files, '--out', out, '--threads', threads, '--quiet'];
    writeFileSync(
      program,
      `process.argv = [process.argv[0], 'camberwright', ...${JSON.stringify(args)}];
      process.on('exit', () => process.stdout.write('\\npeak ' + process.resourceUsage().maxRSS));
      await import(${JSON.stringify(built)});`,
    );
    for (let round = 0; round < rounds; round++) {
      const start = performance.now();
      const { stdout } = await finished(program);
      seconds.push((performance.now() - start) / 1000);
      memory = Math.max(memory, Number(/peak (\d+)/.exec(stdout)?.[1] ?? Number.NaN) / 1024);
    }
    const spread = spreadOf(seconds);
    rows.push([
      `${threads} thread${threads === '1' ? '' : 's'}`,
      spread.median.toFixed(2),
      `${spread.least.toFixed(2)}-${spread.greatest.toFixed(2)}`,
      memory.toFixed(0),
    ]);
  }
  console.log(
    `\n${name}, ${COUNT} points (${(statSync(files[1]).size / 1e6).toFixed(0)} MB), files to results and report`,
  );
  console.log(table(rows));
}

/** Runs a program to its end; a job that found something failing ends with 1 and is done all the same. */
async function finished(program: string): Promise<{ stdout: string }> {
  try {
    return await run(process.execPath, [program], { maxBuffer: 1 << 26 });
  } catch (error) {
    const { code, stdout } = error as { code?: number; stdout?: string };
    if (code === 1 && stdout !== undefined) return { stdout };
    throw error;
  }
}
