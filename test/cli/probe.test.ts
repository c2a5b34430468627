import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { evenHeights, exactSections } from '../../samples/tessellate.ts';
import { writeSectionTable } from '../../src/load/write-section-table.ts';
import type { Results } from '../../src/model/results.ts';
import type { SectionTable } from '../../src/model/shape.ts';
import { resultsFromJson } from '../../src/report/results-json.ts';
import { probedBlade } from '../probe/blade-probe.ts';
import { exactTarget } from '../support/exact-nominal.ts';
import { type Bench, makeBench } from './parts.ts';
import { buildOnce, run } from './run.ts';

const IDENTITY = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1];
const { surface } = exactTarget(9, 160);
const [low, high] = [surface.heights[0], surface.heights[surface.heights.length - 1]];
const HEIGHTS = [0.3, 0.5, 0.7].map((share) => low + share * (high - low));
const probe = (tip: number): SectionTable => probedBlade(surface, HEIGHTS, tip, { sigma: 0.002, seed: 7 });

/** A table as text, in inches when asked, with comments on top. */
function textOf(table: SectionTable, comments: string[], inch = false): string {
  const scale = inch ? 25.4 : 1;
  const sections = table.sections.map(({ id, height, points }) => ({
    id,
    height: height / scale,
    points: points.map((value) => value / scale),
  }));
  const rows = writeSectionTable({ kind: 'sections', sections }, { stateUnit: false });
  return [...comments.map((line) => `# ${line}`), `# unit: ${inch ? 'inch' : 'mm'}`, rows].join('\n');
}

let bench: Bench;
beforeAll(async () => {
  bench = makeBench();
  bench.put('nominal.csv', writeSectionTable(exactSections(evenHeights(9), 160), { stateUnit: true }));
  bench.put('pose.json', JSON.stringify({ matrix: IDENTITY }));
  bench.put('centres.csv', textOf(probe(1), ['points: ball centres', 'tip radius: 1 mm']));
  bench.put('centres-inch.csv', textOf(probe(1), ['points: ball centres', 'tip radius: 1 mm'], true));
  bench.put('silent.csv', textOf(probe(1), []));
  bench.put('part.csv', textOf(probe(0), []));
  await buildOnce();
}, 180_000);
afterAll(() => bench.remove());

async function sections(name: string, ...options: string[]): Promise<Results> {
  const { stdout } = await run(['sections', bench.path(name), '--json', ...options]);
  return resultsFromJson(stdout, 'stdout');
}

const radii = ({ sections: found }: Results): number[] =>
  found.map(({ measured }) => measured?.leadingEdge.radiusFit.value ?? Number.NaN);

describe('sections of a probe file', () => {
  test('centres give the part, by the file itself or by options, and in inches', async () => {
    const part = await sections('part.csv');
    const centres = await sections('centres.csv');
    expect(radii(centres)).toHaveLength(HEIGHTS.length);
    radii(centres).forEach((radius, i) => {
      expect(Math.abs(radius - radii(part)[i])).toBeLessThan(0.006);
    });
    const asked = await sections('silent.csv', '--probe', 'centres', '--tip-radius', '1');
    expect(asked.sections).toEqual(centres.sections);
    expect(asked.settings.probe).toEqual({ points: 'centres', tipRadius: 1 });
    const inch = await sections('centres-inch.csv');
    radii(inch).forEach((radius, i) => {
      expect(radius).toBeCloseTo(radii(centres)[i], 6);
    });
  });

  test('a part read as centres is refused with what to do', async () => {
    const { code, stderr } = await run(['sections', bench.path('part.csv'), '--probe', 'centres', '--tip-radius', '1']);
    expect(code).toBe(3);
    expect(stderr).toContain('the centre of a ball cannot turn tighter');
    expect(stderr).toContain('--probe compensated');
  });

  test.each([
    [['--probe', 'centers'], 'Did you mean "centres"?'],
    [['--probe', 'centres', '--tip-radius', '1mm'], 'a length in mm above 0'],
  ])('%j is refused as misuse', async (options, text) => {
    const { code, stderr } = await run(['sections', bench.path('part.csv'), ...options]);
    expect(code).toBe(2);
    expect(stderr).toContain(text);
  });

  test('centres without a radius are refused', async () => {
    const { code, stderr } = await run(['sections', bench.path('part.csv'), '--probe', 'centres']);
    expect(code).toBe(3);
    expect(stderr).toContain('--tip-radius');
  });
});

test('inspect says so when centres were read as compensated', async () => {
  const files = [bench.path('nominal.csv'), bench.path('silent.csv'), '--pose', bench.path('pose.json')];
  const out = [
    '--out',
    bench.path('wrong'),
    '--heights',
    String(HEIGHTS[1]),
    '--probe',
    'compensated',
    '--tip-radius',
    '1',
  ];
  const { stderr } = await run(['inspect', ...files, ...out]);
  expect(stderr).toContain('The points lie 1.000 mm outside the nominal all round');
  expect(stderr).toContain('--probe centres');
  const results = resultsFromJson(readFileSync(bench.path('wrong/results.json'), 'utf8'), 'results.json');
  expect(results.warnings.map(({ code }) => code)).toContain('probe/not-compensated');
  const plan = { schema: 'camberwright/plan', schemaVersion: 1, probe: { points: 'centres', tipRadius: 1 } };
  const right = [
    '--out',
    bench.path('right'),
    '--heights',
    String(HEIGHTS[1]),
    '--plan',
    bench.put('plan.json', JSON.stringify(plan)),
  ];
  await run(['inspect', ...files, ...right]);
  const mended = resultsFromJson(readFileSync(bench.path('right/results.json'), 'utf8'), 'results.json');
  expect(mended.warnings.map(({ code }) => code).filter((code) => code.startsWith('probe/'))).toEqual([]);
  expect(Math.abs(mended.deviation?.mean ?? 1)).toBeLessThan(3e-4);
}, 60_000);
