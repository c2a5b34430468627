import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dot3, length3, unit3, type Vec3 } from '../../src/math/vec3.ts';
import type { Plan, PlanCut } from '../../src/model/plan.ts';
import { cutOf } from '../../src/section/cut-of-plan.ts';
import type { SectionCut } from '../../src/section/section-cut.ts';

const DEG = Math.PI / 180;
const along = (x: number, z: number): Plan['engine'] => ({ point: [0, 0, z], direction: [x, 0, 0] });
const cylinder = (radius: number, engine = along(1, -300)) => cutOf({ kind: 'cylinder', id: 'C', radius }, engine, '');

function developed(cut: SectionCut, x: number, y: number, z: number): [number, number] {
  const out = new Float64Array(2);
  cut.develop(Float64Array.of(x, y, z), out);
  return [out[0], out[1]];
}

function onCut(cut: SectionCut, x: number, y: number): Vec3 {
  const out = new Float64Array(3);
  cut.undevelop(x, y, out);
  return [out[0], out[1], out[2]];
}

describe('closed forms', () => {
  test('the sag of a cylinder', () => {
    const cut = cylinder(300);
    expect(cut.height).toBeCloseTo(0, 12);
    expect(cut.heightOver(0, 0) - cut.heightOver(7, 20)).toBeCloseTo(300 - Math.sqrt(300 ** 2 - 20 ** 2), 12);
    expect(cut.heightOver(0, 0) - cut.heightOver(7, 20)).toBeCloseTo(0.667409, 6);
    const [x, y] = developed(cut, 7, 20, cut.heightOver(7, 20));
    expect(x).toBeCloseTo(7, 12);
    expect(y).toBeCloseTo(300 * Math.asin(20 / 300), 11);
  });

  test('the cone of 20° from radius 200 to 260 over 6°', () => {
    const angle = 20 * DEG;
    const cut = cutOf({ kind: 'cone', id: 'K', radius: 200, at: 0, halfAngleDeg: 20 }, along(1, 0), '');
    const at = (r: number, theta: number): Vec3 => [
      (r - 200) / Math.tan(angle),
      r * Math.sin(theta),
      r * Math.cos(theta),
    ];
    const [first, second] = [at(200, 0), at(260, 6 * DEG)];
    const [x1, y1] = developed(cut, ...first);
    const [x2, y2] = developed(cut, ...second);
    expect(Math.hypot(x2 - x1, y2 - y1)).toBeCloseTo(177.045922, 6);
    expect(length3(second.map((value, k) => value - first[k]))).toBeCloseTo(177.044623, 6);
    const apex = -200 / Math.sin(angle);
    const psi = Math.atan2(y2, x2 - apex);
    expect(psi / DEG).toBeCloseTo(2.052121, 6);
    const slant = [Math.hypot(x1 - apex, y1), Math.hypot(x2 - apex, y2)];
    expect(slant[1] - slant[0]).toBeCloseTo(175.428264, 6);
    expect(Math.log(slant[1] / slant[0]) / Math.sin(angle)).toBeCloseTo(0.767102, 6);
  });

  test('a cone of next to no angle is the cylinder', () => {
    const place: Vec3 = [12, 25, Math.sqrt(300 ** 2 - 25 ** 2) - 300];
    const plain = developed(cylinder(300), ...place);
    for (const halfAngleDeg of [1e-9, 1e-5, 1e-4, -1e-4]) {
      const cut = cutOf({ kind: 'cone', id: 'K', radius: 300, at: 12, halfAngleDeg }, along(1, -300), '');
      const [x, y] = developed(cut, ...place);
      const origin = developed(cut, 0, 0, cut.height);
      expect(Math.hypot(...origin)).toBeLessThan(1e-12);
      expect(Math.hypot(x - plain[0], y - plain[1])).toBeLessThan(2 * 12 * Math.abs(halfAngleDeg) * DEG + 1e-10);
    }
  });

  test('a plane has its x axis along the projection of X, of Y where X is the normal', () => {
    const tilted = cutOf({ kind: 'plane', id: 'P', point: [0, 0, 40], normal: [0.3, 0.2, 1] }, undefined, '');
    const n = unit3([0.3, 0.2, 1]);
    const origin = onCut(tilted, 0, 0);
    const ex = onCut(tilted, 1, 0).map((value, k) => value - origin[k]);
    expect(origin).toEqual([0, 0, 40]);
    expect(dot3(ex, [1, 0, 0])).toBeCloseTo(Math.sqrt(1 - n[0] ** 2), 12);
    const steep = cutOf({ kind: 'plane', id: 'P', point: [5, 0, 0], normal: [-0.3, 0, -1] }, undefined, '');
    expect(steep.height).toBeCloseTo(1.5, 12);
    expect(developed(steep, 10, 0, -1.5)[0]).toBeGreaterThan(0);
  });
});

describe('any cut', () => {
  const size = (least: number, most: number) => fc.double({ min: least, max: most, noNaN: true });
  const plane = fc.record({
    kind: fc.constant('plane' as const),
    point: fc.tuple(size(-50, 50), size(-50, 50), size(-50, 150)),
    normal: fc.tuple(size(-1, 1), size(-1, 1), fc.constantFrom(-1, 1)),
  });
  const round = fc.record({ kind: fc.constant('cylinder' as const), radius: size(150, 900) });
  const cone = fc.record({
    kind: fc.constant('cone' as const),
    radius: size(250, 900),
    at: size(-50, 50),
    halfAngleDeg: size(-45, 45),
  });
  const axis = fc.record({
    direction: fc.tuple(fc.constantFrom(-2, 1), size(-0.3, 0.3), size(-0.1, 0.1)),
    offset: fc.tuple(size(-20, 20), size(-20, 20)),
    beyondTip: fc.boolean(),
  });

  function made(shape: object, given: { direction: Vec3; offset: [number, number]; beyondTip: boolean }) {
    const cut = { id: 'A', ...shape } as PlanCut;
    const radius = cut.kind === 'plane' ? 0 : cut.radius;
    const z = given.beyondTip ? radius + 90 : 30 - radius;
    return cutOf(cut, { point: [...given.offset, z], direction: given.direction }, '');
  }

  test('keeps lengths and angles, seen from the tip the right way round', () => {
    fc.assert(
      fc.property(fc.oneof(plane, round, cone), axis, size(-40, 40), size(-40, 40), (shape, given, x, y) => {
        const cut = made(shape, given);
        const step = 1e-3;
        const across = (dx: number, dy: number): Vec3 => {
          const [a, b] = [onCut(cut, x + dx, y + dy), onCut(cut, x - dx, y - dy)];
          return [(a[0] - b[0]) / (2 * step), (a[1] - b[1]) / (2 * step), (a[2] - b[2]) / (2 * step)];
        };
        const ex = across(step, 0);
        const ey = across(0, step);
        expect(length3(ex)).toBeCloseTo(1, 7);
        expect(length3(ey)).toBeCloseTo(1, 7);
        expect(dot3(ex, ey)).toBeCloseTo(0, 7);
        const gradient = new Float64Array(3);
        const place = onCut(cut, x, y);
        expect(cut.level(Float64Array.from(place), gradient)).toBeCloseTo(0, 9);
        const normal = [ex[1] * ey[2] - ex[2] * ey[1], ex[2] * ey[0] - ex[0] * ey[2], ex[0] * ey[1] - ex[1] * ey[0]];
        expect(dot3(normal, gradient)).toBeCloseTo(1, 7);
        const [backX, backY] = developed(cut, ...place);
        expect(Math.hypot(backX - x, backY - y)).toBeLessThan(1e-9);
        expect(Math.hypot(...developed(cut, 0, 0, cut.height))).toBeLessThan(1e-9);
      }),
      { seed: 7, numRuns: 300 },
    );
  });

  test('tells the signed distance of a point beside it', () => {
    fc.assert(
      fc.property(fc.oneof(plane, round, cone), axis, size(-30, 30), size(-2, 2), (shape, given, x, off) => {
        const cut = made(shape, given);
        const gradient = new Float64Array(3);
        const foot = Float64Array.from(onCut(cut, x, 5));
        cut.level(foot, gradient);
        expect(gradient[2]).toBeGreaterThan(0);
        const beside = foot.map((value, k) => value + off * gradient[k]);
        expect(cut.level(beside, gradient)).toBeCloseTo(off, 9);
        expect(cut.heightOver(foot[0], foot[1])).toBeCloseTo(foot[2], 7);
        const out = developed(cut, beside[0], beside[1], beside[2]);
        expect(Math.hypot(out[0] - x, out[1] - 5)).toBeLessThan(1e-9);
      }),
      { seed: 8, numRuns: 300 },
    );
  });
});
