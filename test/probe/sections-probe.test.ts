import { expect, test } from 'vitest';
import { formAt, nominalBlade } from '../../samples/blade.ts';
import { measureShape } from '../../src/measure-shape.ts';
import type { SectionTable } from '../../src/model/shape.ts';
import { exactTarget } from '../support/exact-nominal.ts';
import { loaded } from '../support/loaded.ts';
import { probedBlade } from './blade-probe.ts';

const { surface } = exactTarget(21, 400);
const HEIGHTS = [24, 42, 60, 78];

async function measured(table: SectionTable) {
  const probe = { points: 'centres', tipRadius: 1 } as const;
  return (await measureShape({ shape: loaded(table), settings: { probe } }, {})).results;
}

test('a twisted blade comes back from exact centres at its own heights, no nominal given', async () => {
  const { sections, warnings } = await measured(probedBlade(surface, [12, ...HEIGHTS, 96], 1, { sigma: 0, seed: 1 }));
  expect(warnings).toEqual([]);
  for (const { height, measured: own } of sections) {
    const { form } = formAt(nominalBlade(), height);
    expect(Math.abs((own?.leadingEdge.radiusFit.value ?? 9) - form.leading)).toBeLessThan(5e-4);
    expect(Math.abs((own?.trailingEdge.radiusFit.value ?? 9) - form.trailing)).toBeLessThan(5e-4);
  }
});

test('two passes are measured together and their difference is a record', async () => {
  const first = probedBlade(surface, HEIGHTS, 1, { sigma: 0.002, seed: 2 });
  const second = probedBlade(surface, HEIGHTS, 1.01, { sigma: 0.002, seed: 3 });
  const sections = first.sections.map((section, k) => ({ ...section, again: [second.sections[k].points] }));
  const both = await measured({ kind: 'sections', sections });
  expect(both.scans).toHaveLength(4 * HEIGHTS.length);
  for (const { difference } of both.scans ?? []) {
    expect(Math.abs((difference.value ?? 0) - 0.01)).toBeLessThan(4 * (difference.u ?? 0) + 2e-4);
  }
  expect(both.warnings.map(({ code }) => code)).toEqual(['probe/scans-differ']);
  for (const { height, measured: own } of both.sections) {
    const { form } = formAt(nominalBlade(), height);
    // The mean of the two passes lies 5 µm outside the part.
    expect(Math.abs((own?.leadingEdge.radiusFit.value ?? 9) - form.leading - 0.005)).toBeLessThan(0.004);
  }
});
