import { describe, expect, test } from 'vitest';
import { nominalOutline } from '../../src/fit/nominal-outline.ts';
import { outlineFoot } from '../../src/fit/outline-foot.ts';
import { seededRandom } from '../../src/math/random.ts';
import { dot3 } from '../../src/math/vec3.ts';
import type { PlanCut } from '../../src/model/plan.ts';
import type { Relation } from '../../src/model/relation.ts';
import type { NominalSurface } from '../../src/model/surface.ts';
import { carryPoints } from '../../src/section/carry-points.ts';
import { cutOf } from '../../src/section/cut-of-plan.ts';
import { cutSection } from '../../src/section/cut-section.ts';
import { pivotOn } from '../../src/section/pivot-on.ts';
import { pointsByHeight, sectionPoints } from '../../src/section/slab-points.ts';
import { levelSection } from '../../src/section/surface-section.ts';
import { evaluateSurface, PLACE_SIZE, placeNormal } from '../../src/spatial/surface-evaluate.ts';
import { ruledBlade } from '../support/ruled-blade.ts';
import { ellipseSection } from '../support/sections.ts';

const ENGINE = { point: [0, 0, -300] as [number, number, number], direction: [1, 0, 0] as [number, number, number] };
const made = (cut: PlanCut) => cutOf(cut, ENGINE, 'p.json');
const rod = ruledBlade(() => ellipseSection(20, 6));
const cylinder = (radius: number): PlanCut => ({ kind: 'cylinder', id: 'C', radius });

const plane = (normal: [number, number, number], height: number): PlanCut => ({
  kind: 'plane',
  id: 'P',
  point: [0, 0, height],
  normal,
});

/** A rod that tapers to 60 % of its size over `taper` mm, its sections shifted in closed form. */
function shifted(shift: (height: number) => [number, number], taper: number): NominalSurface {
  return ruledBlade((height) => {
    const ellipse = ellipseSection(20 - (8 * height) / taper, 6 - (2.4 * height) / taper);
    const [dx, dy] = shift(height);
    const stretches = ellipse.stretches.map((stretch) => (f: number): [number, number] => {
      const [x, y] = stretch(f);
      return [x + dx, y + dy];
    });
    return { ...ellipse, stretches };
  }, 800);
}

const leaned = shifted((height) => [0.05 * height, 0.2 * height], 120);

const CUTS: PlanCut[] = [
  plane([0.1, -0.3, 1], 60),
  cylinder(360),
  { kind: 'cone', id: 'K', radius: 360, at: 0, halfAngleDeg: 15 },
];

describe('a section that is none of the blade is refused', () => {
  test.each([
    [cylinder(250), 'misses the aerofoil', 'Move it 50.060 mm towards the tip or more.'],
    [cylinder(500), 'misses the aerofoil', 'Move it 80.000 mm towards the root or more.'],
    [cylinder(300.02), 'leaves the aerofoil', 'Move it 0.040 mm towards the tip or more.'],
    [cylinder(420.01), 'leaves the aerofoil', 'Move it 0.010 mm towards the root or more.'],
    [plane([0.2, 0, 1], 117), 'leaves the aerofoil', 'Move it 0.981 mm towards the root or more.'],
    [plane([5, 0, 1], 60), 'leaves the aerofoil', 'Choose a section nearer to square with the span.'],
  ])('%j %s', (cut, words, remedy) => {
    expect(() => cutSection(rod, made(cut))).toThrow(
      expect.objectContaining({ code: 'plan/cut-outside-span', message: expect.stringContaining(words), remedy }),
    );
  });

  test('but taken up to the very ends', () => {
    expect(cutSection(rod, made(cylinder(420))).to).toBeCloseTo(120, 9);
    expect(cutSection(rod, made(plane([0, 0, 1], 0))).heightAt(3)).toBeCloseTo(0, 9);
  });

  test('where it crosses itself', () => {
    const wavy = shifted((height) => [0, -20 * Math.sin((Math.PI * height) / 20)], 120);
    expect(() => cutSection(wavy, made(plane([0, -1, 1], 60)))).toThrow(
      expect.objectContaining({ code: 'plan/cut-crosses-itself' }),
    );
    expect(cutSection(wavy, made(plane([0, 0, 1], 60))).height).toBe(60);
  });
});

describe('points of a leaned, tapered blade', () => {
  const random = seededRandom(5);
  const count = 20_000;
  const { columns } = leaned;
  const turn = columns[columns.length - 1] - columns[0];
  const relation: Relation = {
    count,
    u: Float64Array.from({ length: count }, () => columns[0] + turn * random()),
    height: Float64Array.from({ length: count }, () => 120 * random()),
    deviation: Float64Array.from({ length: count }, () => 0.004 * (random() - 0.5)),
    flag: Uint8Array.from({ length: count }, (_, i) => (i % 50 === 0 ? 2 : 0)),
  };

  test.each(CUTS)('are carried onto the $kind with their offset over the cosine', (given) => {
    const cut = made(given);
    const on = cutSection(leaned, cut);
    const { outline } = nominalOutline(on);
    const { pick } = sectionPoints(on, relation, pointsByHeight(relation));
    const carried = carryPoints(on, relation, pick);
    expect(carried.u.length).toBeGreaterThan(200);
    const place = new Float64Array(PLACE_SIZE);
    const normal = new Float64Array(3);
    const gradient = new Float64Array(3);
    const back = new Float64Array(3);
    carried.u.forEach((u, k) => {
      const [x, y] = carried.points.subarray(2 * k, 2 * k + 2);
      cut.undevelop(x, y, back);
      expect(Math.abs(cut.level(back, gradient))).toBeLessThan(1e-9);
      evaluateSurface(leaned, u, on.heightAt(u), place);
      placeNormal(leaned, place, normal);
      expect(Math.abs(cut.level(place, gradient))).toBeLessThan(1e-9);
      const cosine = Math.sqrt(1 - dot3(normal, gradient) ** 2);
      const { distance } = outlineFoot(outline, x, y);
      expect(Math.abs(distance - carried.deviation[k] / cosine)).toBeLessThan(2e-6);
    });
  });

  test('are picked by their distance from the section along the span', () => {
    const on = cutSection(leaned, made(CUTS[0]));
    expect(on.to - on.from).toBeGreaterThan(4);
    const { pick, halfThickness } = sectionPoints(on, relation, pointsByHeight(relation), {
      halfThickness: 1.5,
      points: 1,
      mostHalfThickness: 3,
    });
    expect(halfThickness).toBe(1.5);
    const expected = Array.from(relation.u.keys()).filter(
      (i) => relation.flag[i] === 0 && Math.abs(relation.height[i] - on.heightAt(relation.u[i])) < 1.5,
    );
    expect(Array.from(pick).sort((a, b) => a - b)).toEqual(expected);
  });
});

test('length along a section is that of its outline', () => {
  const on = cutSection(rod, made(plane([0, -0.5, 1], 60)));
  const { columns } = rod;
  const area = Math.sqrt(1 + 0.25);
  let length = 0;
  for (let i = 0; i < 20_000; i++) {
    const angle = ((i + 0.5) / 20_000) * 2 * Math.PI;
    length += (Math.hypot(20 * Math.sin(angle), 6 * area * Math.cos(angle)) * 2 * Math.PI) / 20_000;
  }
  expect(on.alongAt(0)).toBeCloseTo(0, 12);
  expect(on.alongAt(columns[columns.length - 1]) - on.alongAt(columns[0])).toBeCloseTo(length, 2);
});

test('the pivot of section motions is where its line along Z meets the section', () => {
  const on = cutSection(rod, made(cylinder(360)));
  const [x, y] = pivotOn(on, [5, 20]);
  expect(x).toBeCloseTo(5, 12);
  expect(y).toBeCloseTo(360 * Math.asin(20 / 360), 9);
  expect(pivotOn(levelSection(rod, 60), [5, 20])).toEqual([5, 20]);
  expect(() => pivotOn(on, [0, 400])).toThrow(expect.objectContaining({ code: 'plan/cut-pivot' }));
});
