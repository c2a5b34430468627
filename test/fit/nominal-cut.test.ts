import { describe, expect, test } from 'vitest';
import { type BladeLaw, formAt, nominalBlade, surfacePoint } from '../../samples/blade.ts';
import { outlinePlaces, outlineSteps } from '../../samples/outline-grid.ts';
import { exactSections } from '../../samples/tessellate.ts';
import { nominalFromTable } from '../../src/fit/nominal-blade.ts';
import { type NominalOutline, nominalOutline } from '../../src/fit/nominal-outline.ts';
import { sampleOutline } from '../../src/fit/outline-evaluate.ts';
import { outlineFoot } from '../../src/fit/outline-foot.ts';
import { areaProperties } from '../../src/measure/area-properties.ts';
import type { PlanCut } from '../../src/model/plan.ts';
import { cutOf } from '../../src/section/cut-of-plan.ts';
import { cutSection } from '../../src/section/cut-section.ts';
import type { SectionCut } from '../../src/section/section-cut.ts';
import { levelSection, type SurfaceSection } from '../../src/section/surface-section.ts';
import { ruledBlade } from '../support/ruled-blade.ts';
import { circleSection, ellipseSection, plateSection, type TestSection } from '../support/sections.ts';

const R0 = 300;
const ENGINE = { point: [0, 0, 60 - R0] as [number, number, number], direction: [1, 0, 0] as [number, number, number] };
const cylinder = cutOf({ kind: 'cylinder', id: 'C', radius: R0 }, ENGINE, '');
const tilted = (angle: number): SectionCut =>
  cutOf({ kind: 'plane', id: 'P', point: [0, 0, 60], normal: [0, -Math.tan(angle), 1] }, undefined, '');
const DEG = Math.PI / 180;

/** Points of an outline, x0, y0, …, so many to each knot span's mean. */
function places({ outline }: NominalOutline, count = 3000): Float64Array {
  return sampleOutline(
    outline,
    Float64Array.from({ length: count }, (_, i) => outline.knots[0] + (outline.period * i) / count),
  );
}

function widthAt(on: SurfaceSection, y: number): number {
  const out = new Float64Array(2);
  const sides = [-1, 1].map((side) => {
    let [low, high] = side < 0 ? [on.surface.columns[0], 0] : [0, on.surface.columns.at(-1)!];
    const rising = (() => {
      on.carry(low, 0, out);
      const start = out[1];
      on.carry(high, 0, out);
      return out[1] > start;
    })();
    for (let i = 0; i < 60; i++) {
      const middle = (low + high) / 2;
      on.carry(middle, 0, out);
      if (out[1] < y === rising) low = middle;
      else high = middle;
    }
    on.carry(low, 0, out);
    return out[0];
  });
  return Math.abs(sides[1] - sides[0]);
}

/** A plate across Y whose thickness (along X) changes along the span. */
function wedge(thicknessAt: (height: number) => number) {
  const sectionAt = (height: number): TestSection => {
    const plate = plateSection(60, 3, thicknessAt(height) / 2);
    const stretches = plate.stretches.map((stretch) => (f: number): [number, number] => {
      const [x, y] = stretch(f);
      return [-y, x];
    });
    return { ...plate, stretches };
  };
  return ruledBlade(sectionAt, 800, { leadingEdgeTowards: '-Y' });
}

describe('a straight rod', () => {
  test('cut by a cylinder is its circle with the tangential side unrolled', () => {
    const radius = 12;
    const on = cutSection(
      ruledBlade(() => circleSection(radius), 600),
      cylinder,
    );
    const points = places(nominalOutline(on));
    for (let i = 0; i < points.length; i += 2) {
      const across = R0 * Math.sin(points[i + 1] / R0);
      expect(Math.abs(Math.hypot(points[i], across) - radius)).toBeLessThan(1e-6);
    }
  });

  test('of elliptic section cut by a tilted plane has an area larger by the cosine', () => {
    const surface = ruledBlade(() => ellipseSection(20, 6), 800);
    const level = areaProperties(nominalOutline(levelSection(surface, 60)).outline).area;
    const cut = areaProperties(nominalOutline(cutSection(surface, tilted(25 * DEG))).outline).area;
    expect(level).toBeCloseTo(Math.PI * 120, 4);
    expect(cut / level).toBeCloseTo(1 / Math.cos(25 * DEG), 7);
  });
});

describe('a flat plate', () => {
  const surface = ruledBlade(() => plateSection(40, 2, 2), 800);

  test('grows by the cosine of the plane and by the arc of the cylinder', () => {
    const half = (on: SurfaceSection) => {
      const points = places(nominalOutline(on));
      const flank = points.filter((_, k) => k % 2 === 1 && Math.abs(points[k - 1]) < 15);
      return [Math.min(...flank.map(Math.abs)), Math.max(...flank.map(Math.abs))];
    };
    for (const [on, expected] of [
      [cutSection(surface, tilted(30 * DEG)), 2 / Math.cos(30 * DEG)],
      [cutSection(surface, cylinder), R0 * Math.asin(2 / R0)],
    ] as const) {
      const [least, most] = half(on);
      expect(least).toBeCloseTo(expected, 6);
      expect(most).toBeCloseTo(expected, 6);
    }
  });
});

describe('a wedge', () => {
  test('of thickness gradient −0.02 is thicker by 0.0133 at y = 20 in the cylinder than in the plane', () => {
    const surface = wedge((height) => 6 - 0.02 * height);
    const sag = R0 - Math.sqrt(R0 ** 2 - 20 ** 2);
    const plane = widthAt(levelSection(surface, 60), 20);
    const round = widthAt(cutSection(surface, cylinder), R0 * Math.asin(20 / R0));
    expect(plane).toBeCloseTo(6 - 0.02 * 60, 6);
    expect(round - plane).toBeCloseTo(0.02 * sag, 6);
    expect((round - plane).toFixed(4)).toBe('0.0133');
  });

  test('cut by an oblique plane has straight flanks that close at the traced angle', () => {
    const angle = 20 * DEG;
    const surface = wedge((height) => 6 - 0.02 * height);
    const on = cutSection(surface, tilted(angle));
    for (const y of [-25, -10, 0, 5, 24]) {
      const height = 60 + y * Math.sin(angle);
      expect(widthAt(on, y)).toBeCloseTo(6 - 0.02 * height, 6);
    }
    const heights = [on.from, on.to].map((z) => (z - 60) / Math.sin(angle));
    expect(heights[0]).toBeCloseTo(-30 / Math.cos(angle), 3);
    expect(heights[1]).toBeCloseTo(30 / Math.cos(angle), 3);
  });
});

/** Exact developed points of a blade in closed form on a cut. */
function exactCut(blade: BladeLaw, cut: SectionCut): [number, number][] {
  const at = new Float64Array(7);
  const gradient = new Float64Array(3);
  const out = new Float64Array(2);
  return outlinePlaces(outlineSteps(300)).map(({ piece, t }) => {
    let [low, high] = [0, blade.span];
    for (let i = 0; i < 60; i++) {
      const middle = (low + high) / 2;
      surfacePoint(formAt(blade, middle), piece, t, middle, at);
      if (cut.level(at, gradient) < 0) low = middle;
      else high = middle;
    }
    cut.develop(at, out);
    return [out[0], out[1]];
  });
}

describe('the sample blade, leaned', () => {
  const blade = nominalBlade({ lean: [5, 12] });
  const heights = Array.from({ length: 25 }, (_, i) => 5 * i);
  const { surface } = nominalFromTable(exactSections(heights, 600, blade), {});
  const cuts: PlanCut[] = [
    { kind: 'plane', id: 'P', point: [0, 0, 55], normal: [0.2, -0.3, 1] },
    { kind: 'cylinder', id: 'C', radius: 350 },
    { kind: 'cone', id: 'K', radius: 350, at: 0, halfAngleDeg: 18 },
    { kind: 'cone', id: 'F', radius: 340, at: 5, halfAngleDeg: -12 },
  ];

  test.each(cuts)('by the $kind $id follows the closed form', (given) => {
    const cut = cutOf(given, { point: [0, 0, -300], direction: [1, 0, 0] }, '');
    const on = cutSection(surface, cut);
    const nominal = nominalOutline(on);
    const off = exactCut(blade, cut).map(([x, y]) => Math.abs(outlineFoot(nominal.outline, x, y).distance));
    expect(Math.max(...off)).toBeLessThan(6e-5);
    expect(areaProperties(nominal.outline).area).toBeGreaterThan(0);
    const out = new Float64Array(8);
    const ends = sampleOutline(nominal.outline, Float64Array.of(nominal.edges.leading, nominal.edges.trailing));
    on.carry(0, 0, out);
    expect(Math.hypot(ends[0] - out[0], ends[1] - out[1])).toBeLessThan(1e-9);
    on.carry(surface.columns[0], 0, out);
    expect(Math.hypot(ends[2] - out[0], ends[3] - out[1])).toBeLessThan(1e-9);
  });
});
