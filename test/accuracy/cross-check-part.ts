import { fitOutline } from '../../src/fit/fit-outline.ts';
import { table } from '../bench/rounds.ts';
import { REFERENCE_SECTIONS, type ReferenceName, sectionPoints } from '../support/reference-sections.ts';
import { type CrossCheck, crossChecks, edgeChecks } from './cross-check-rows.ts';
import type { Outcome, Part } from './part.ts';
import { contextOf, exactSection, NOISES, POINTS } from './section-statistics.ts';

/** Measures against other methods written apart: every difference within the tolerance of its row. */
export const crossCheckPart: Part = { count: 3, of: 'seeds', run: runCrossCheck };

async function runCrossCheck(seeds: number): Promise<Outcome> {
  const worst = new Map<string, { check: CrossCheck; title: string }>();
  const keep = (title: string, check: CrossCheck) => {
    const before = worst.get(`${title} ${check.row}`);
    if (!before || sizeOf(check) > sizeOf(before.check)) worst.set(`${title} ${check.row}`, { check, title });
  };
  for (const name of Object.keys(REFERENCE_SECTIONS) as ReferenceName[]) {
    for (const check of crossChecks(exactSection(name).context)) keep(`${name} exact`, check);
    for (const noise of NOISES)
      for (let seed = 1; seed <= seeds; seed++) {
        const points = sectionPoints(REFERENCE_SECTIONS[name], POINTS, noise, seed);
        const checks = [...crossChecks(contextOf(fitOutline(points, { corners: [] }))), edgeChecks(points, name)];
        for (const check of checks) keep(`${name} ${1000 * noise} um`, check);
      }
  }
  const found = [...worst.values()];
  const apart = found.filter(({ check }) => sizeOf(check) > 1);
  const body = found.map(({ title, check: { row, measured, otherwise, tolerance } }) => [
    `${title}: ${row}`,
    measured.toFixed(6),
    (measured - otherwise).toExponential(1),
    tolerance.toExponential(1),
  ]);
  return {
    lines: [
      `measures against other methods, worst of ${seeds} seeds (mm, mm2, degrees)`,
      table([['section: row', 'measured', 'apart by', 'at most'], ...body]),
    ],
    broken: apart.map(({ title, check }) => `${title}: ${check.row} apart by ${sizeOf(check).toFixed(1)} tolerances`),
    summary: {
      title: 'Measures against brute force, polygon limits and searches without derivatives:',
      head: ['rows', 'within their tolerance'],
      rows: [[String(found.length), String(found.length - apart.length)]],
    },
  };
}

/** Difference in tolerances. */
function sizeOf({ measured, otherwise, tolerance }: CrossCheck): number {
  const size = Math.abs(measured - otherwise) / tolerance;
  return Number.isNaN(size) ? Number.POSITIVE_INFINITY : size;
}
