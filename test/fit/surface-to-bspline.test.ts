import { describe, expect, test } from 'vitest';
import { evenHeights, exactSections } from '../../samples/tessellate.ts';
import { sectionsDifference } from '../../src/fit/bspline-sections.ts';
import { nominalFromTable } from '../../src/fit/nominal-blade.ts';
import { surfaceToBspline } from '../../src/fit/surface-to-bspline.ts';
import { bsplineCurveAt, bsplineIsoCurve, bsplineSurfaceAt } from '../../src/spatial/bspline-evaluate.ts';
import { evaluateSurface, PLACE_SIZE } from '../../src/spatial/surface-evaluate.ts';

const MICRON = 1e-3;
const place = new Float64Array(PLACE_SIZE);
const out = new Float64Array(9);

/** Sections of a thin strip with square ends, turned by `turn` (rad) from the lower to the upper. */
function strips(turn: number) {
  return [0, 0.5, 1].map((share, k) => {
    const [cos, sin] = [Math.cos(share * turn), Math.sin(share * turn)];
    const points: number[] = [];
    const corners = [-20, -1, 20, -1, 20, 1, -20, 1];
    for (let i = 0; i < 4; i++) {
      const steps = i % 2 === 0 ? 80 : 8;
      for (let s = 0; s < steps; s++) {
        const at = (axis: number) =>
          corners[2 * i + axis] + (s / steps) * (corners[(2 * i + 2 + axis) % 8] - corners[2 * i + axis]);
        points.push(cos * at(0) - sin * at(1), sin * at(0) + cos * at(1));
      }
    }
    return { id: `S${k}`, height: 30 * share, points: Float64Array.from(points) };
  });
}

describe('a nominal surface as a B-spline surface', () => {
  const blade = nominalFromTable(exactSections(evenHeights(21), 400), {});
  const made = surfaceToBspline(blade.surface);
  const { surface } = made;

  test('of the sample blade needs no row but its sections', () => {
    expect(Array.from(made.heights)).toEqual(evenHeights(21));
    expect(made.atSections).toBeLessThan(1e-11);
    expect(made.between).toBeLessThan(2e-6);
    expect(surface.countV).toBe(23);
    expect(surface.poles.length).toBe(3 * surface.countU * surface.countV);
    expect(surface.knotsU.length).toBe(surface.countU + 4);
  });

  test('its curves at the sections are the outlines', () => {
    expect(sectionsDifference(surface, blade.sections)).toBeLessThan(1e-5);
    const moved = [{ height: blade.sections[3].height + 1, outline: blade.sections[3].outline }];
    expect(sectionsDifference(surface, moved)).toBeGreaterThan(0.05);
  });

  test('is the nominal at any place within its stated difference, point and tangent', () => {
    let most = 0;
    for (let i = 0; i <= 50; i++) {
      for (let j = 0; j <= 37; j++) {
        const u = blade.surface.columns[0] * (1 - i / 50) + (blade.surface.columns.at(-1)! * i) / 50;
        const z = (120 * j) / 37;
        evaluateSurface(blade.surface, u, z, place);
        bsplineSurfaceAt(surface, u, z, out);
        most = Math.max(most, Math.hypot(out[0] - place[0], out[1] - place[1], out[2] - place[2]));
        expect(Math.hypot(out[3] - place[3], out[4] - place[4])).toBeLessThan(1e-5);
        expect(Math.hypot(out[6] - place[6], out[7] - place[7])).toBeLessThan(1e-4);
      }
    }
    expect(most).toBeLessThan(2 * made.between + 1e-11);
  });

  test('is closed, and its sections are plane at their very heights', () => {
    for (const z of [0, 6, 47.3, 120]) {
      const { poles } = bsplineIsoCurve(surface, z);
      const n = surface.countU;
      expect(Array.from(poles.subarray(0, 3))).toEqual(Array.from(poles.subarray(3 * n - 3)));
      for (let i = 0; i < n; i++) expect(poles[3 * i + 2]).toBeCloseTo(z, 12);
    }
  });

  test('a strong turn gets rows until the difference holds; corners stay sharp', () => {
    const strip = nominalFromTable({ kind: 'sections', sections: strips(1.2) }, {});
    const tight = surfaceToBspline(strip.surface, { tolerance: 1e-5 });
    const loose = surfaceToBspline(strip.surface, { tolerance: 0.5 });
    expect(loose.heights.length).toBe(3);
    expect(loose.between).toBeGreaterThan(MICRON);
    expect(tight.heights.length).toBeGreaterThan(5);
    expect(tight.between).toBeLessThan(1e-5);
    expect(tight.heights).toContain(15);
    // The corner of the strip at the height of 8 mm, in closed form.
    const turn = (1.2 * 8) / 30;
    const curve = bsplineIsoCurve(tight.surface, 8);
    const corners = [-1, 1].flatMap((x) =>
      [-1, 1].map((y) => [20 * x * Math.cos(turn) - y * Math.sin(turn), 20 * x * Math.sin(turn) + y * Math.cos(turn)]),
    );
    for (const [x, y] of corners) {
      let nearest = Number.POSITIVE_INFINITY;
      for (const u of curve.knots) {
        bsplineCurveAt(curve, u, out);
        nearest = Math.min(nearest, Math.hypot(out[0] - x, out[1] - y));
      }
      expect(nearest).toBeLessThan(1e-5);
    }
  });
});
