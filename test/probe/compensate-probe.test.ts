import { describe, expect, test } from 'vitest';
import { curvatureAt } from '../../src/fit/outline-evaluate.ts';
import type { SectionPoints } from '../../src/model/shape.ts';
import { compensateProbe } from '../../src/probe/compensate-probe.ts';
import { ellipseDistance, ellipseNormal, evenAngles, leanedSection } from './leaned-ellipse.ts';

const RHO = 1;
const HEIGHTS = [0, 10, 20, 30];
const DEG = Math.PI / 180;

test('an ellipse comes back from the path of the ball round it', () => {
  const part = { a: 20, b: 2, lean: 0 };
  const sections = HEIGHTS.map((height) => leanedSection(part, height, RHO, evenAngles(4000)));
  const done = compensateProbe(sections, { tipRadius: RHO });
  expect(done.warnings).toEqual([]);
  const { path, points } = done.sections[1];
  // The path's nose has the ellipse's own radius b²/a and the ball's together.
  expect(1 / curvatureAt(path.outline, path.edges.leading)).toBeCloseTo(0.2 + RHO, 4);
  for (let i = 0; i < points.length; i += 2) {
    expect(Math.abs(ellipseDistance(20, 2, points[i], points[i + 1]))).toBeLessThan(1e-6);
  }
});

describe.each([
  [5, 0.00382],
  [10, 0.015427],
])('a surface leaning by %d degrees', (degrees, inPlaneError) => {
  const part = { a: 20, b: 2, lean: degrees * DEG };
  const slope = Math.tan(part.lean);
  const angles = evenAngles(2000);
  const sections = HEIGHTS.map((height) => leanedSection(part, height, RHO, angles));

  test('compensation in the plane leaves material, that in space does not', () => {
    const { sections: done } = compensateProbe(sections, { tipRadius: RHO });
    let worstInPlane = 0;
    let worst = 0;
    for (const { path, points, height } of done) {
      for (let i = 0; i < points.length; i += 2) {
        const inPlane = [path.points[i] - RHO * path.normal[i], path.points[i + 1] - RHO * path.normal[i + 1]];
        worstInPlane = Math.max(worstInPlane, ellipseDistance(20, 2, inPlane[0], inPlane[1] - slope * height));
        worst = Math.max(worst, Math.abs(ellipseDistance(20, 2, points[i], points[i + 1] - slope * height)));
      }
    }
    expect(worstInPlane).toBeCloseTo(RHO * (1 / Math.cos(part.lean) - 1), 6);
    expect(worstInPlane).toBeCloseTo(inPlaneError, 5);
    expect(worst).toBeLessThan(1e-6);
  });

  test('contacts keep their own height, rho sin b off the plane, and lie on the part', () => {
    const { positions, normals } = compensateProbe(sections, { tipRadius: RHO });
    const lowest = positions.filter((_, i) => i % 3 === 2).reduce((least, z) => Math.min(least, z), Infinity);
    expect(lowest).toBeCloseTo(HEIGHTS[0] - RHO * Math.sin(part.lean), 5);
    for (let i = 0; i < positions.length; i += 3) {
      const [x, y, z] = positions.subarray(i, i + 3);
      expect(Math.abs(ellipseDistance(20, 2, x, y - slope * z))).toBeLessThan(1e-6);
      expect(Math.hypot(...normals.subarray(i, i + 3))).toBeCloseTo(1, 12);
    }
  });

  test('a lone section takes its lean from vectors of either sign, else none, with a warning', () => {
    const lone = sections[0];
    const alone = compensateProbe([lone], { tipRadius: RHO });
    expect(alone.warnings.map(({ code }) => code)).toEqual(['probe/no-lean']);
    const vectors = Float64Array.from(
      Array.from(angles).flatMap((angle, i) => {
        const [mx, my] = ellipseNormal(part, angle);
        const size = Math.hypot(1, my * slope) * (i % 3 === 0 ? -1 : 1);
        return [mx / size, my / size, (-my * slope) / size];
      }),
    );
    for (const given of [
      compensateProbe([{ ...lone, vectors }], { tipRadius: RHO }),
      compensateProbe([lone], { tipRadius: RHO, nominalNormals: vectors }),
    ]) {
      expect(given.warnings).toEqual([]);
      const [{ points }] = given.sections;
      for (let i = 0; i < points.length; i += 2) {
        // One section tells the steepest tangent, not the axis: along the outline the two differ by `slid`.
        const angle = Math.atan2(points[i + 1] / part.b, points[i] / part.a);
        const [mx, my] = ellipseNormal(part, angle);
        const slid = RHO * mx * my * slope * slope;
        const bend = (part.a * part.b) / Math.hypot(part.a * Math.sin(angle), part.b * Math.cos(angle)) ** 3;
        const distance = Math.abs(ellipseDistance(20, 2, points[i], points[i + 1]));
        expect(distance).toBeLessThan(1e-6 + 0.6 * bend * slid * slid);
      }
    }
    const [{ points }] = alone.sections;
    let most = 0;
    for (let i = 0; i < points.length; i += 2) {
      most = Math.max(most, ellipseDistance(20, 2, points[i], points[i + 1]));
    }
    expect(most).toBeCloseTo(inPlaneError, 5);
  });
});

test('vectors askew to the surface are called so and not used where the sections show its lean', () => {
  const part = { a: 20, b: 2, lean: 0 };
  const angles = evenAngles(800);
  const turned = (by: number): Float64Array =>
    Float64Array.from(
      Array.from(angles).flatMap((angle) => {
        const [mx, my] = ellipseNormal(part, angle);
        return [mx * Math.cos(by), my * Math.cos(by), Math.sin(by)];
      }),
    );
  const run = (by: number) =>
    compensateProbe(
      HEIGHTS.map((height) => ({ ...leanedSection(part, height, RHO, angles), vectors: turned(by) })),
      { tipRadius: RHO },
    );
  const askew = run(15 * DEG);
  expect(askew.warnings).toHaveLength(HEIGHTS.length);
  expect(askew.warnings[0]).toMatchObject({ code: 'probe/vectors-askew', where: 'section z0' });
  expect(askew.warnings[0].message).toContain('15.0 degrees');
  expect(askew.warnings[0].message).toContain('0.0341 mm');
  const straight = run(5 * DEG);
  expect(straight.warnings).toEqual([]);
  expect(askew.positions).toEqual(straight.positions);
});

test('points that are on the part already are refused as centres', () => {
  const part = { a: 20, b: 2, lean: 0 };
  const sections = HEIGHTS.map((height) => leanedSection(part, height, 0, evenAngles(800)));
  expect(() => compensateProbe(sections, { tipRadius: RHO })).toThrowError(
    expect.objectContaining({ code: 'probe/not-centres', remedy: expect.stringContaining('compensated') }),
  );
  // Where the edges are blunt the sides cross.
  const plate = HEIGHTS.map((height) => plateSection(height, 1));
  expect(() => compensateProbe(plate, { tipRadius: 1.05 })).toThrowError(
    expect.objectContaining({
      code: 'probe/not-centres',
      message: expect.stringContaining('two sides of the path cross'),
    }),
  );
});

/** A plate 40 long with half-round ends. */
function plateSection(height: number, radius: number): SectionPoints {
  const points: number[] = [];
  const straight = 20 - radius;
  for (const side of [1, -1]) {
    for (let i = 0; i < 200; i++) {
      const angle = Math.PI * (i / 200 - 0.5);
      points.push(side * (straight + radius * Math.cos(angle)), side * radius * Math.sin(angle));
    }
    for (let i = 0; i < 200; i++) points.push(side * straight * (1 - i / 100), side * radius);
  }
  return { id: `z${height}`, height, points: Float64Array.from(points) };
}
