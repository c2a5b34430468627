import { expect, test } from 'vitest';
import type { NominalSurface } from '../../src/model/surface.ts';
import { emptyCurvature, placeCurvature } from '../../src/spatial/surface-curvature.ts';
import { evaluateSurface, PLACE_SIZE } from '../../src/spatial/surface-evaluate.ts';
import { ruledBlade } from '../support/ruled-blade.ts';
import { circleSection, ellipseSection, type TestSection } from '../support/sections.ts';

const place = new Float64Array(PLACE_SIZE);
const found = emptyCurvature();

/** Share by which the second derivative of a cubic through points 3° apart may be off: a twelfth of the step squared. */
const SHARE = 2.5e-4;

function expectWithin(value: number, expected: number): void {
  expect(Math.abs(value / expected - 1)).toBeLessThan(SHARE);
}

/** Calls back with curvature and point at places over the middle of a surface. */
function everywhere(surface: NominalSurface, check: (x: number, y: number, z: number) => void): void {
  const { columns } = surface;
  for (let i = 0; i < 60; i++) {
    const u = columns[0] + ((i + 0.37) / 60) * (columns[columns.length - 1] - columns[0]);
    for (const z of [33, 47.5, 60, 72.2]) {
      evaluateSurface(surface, u, z, place);
      placeCurvature(surface, place, found);
      check(place[0], place[1], z);
    }
  }
}

test('a cylinder: k1 = 1 / R, k2 = 0, convex positive', () => {
  everywhere(
    ruledBlade(() => circleSection(8), 600),
    () => {
      expectWithin(found.mean, 1 / 16);
      expect(found.gaussian).toBeCloseTo(0, 8);
      expectWithin(found.first, 1 / 8);
      expect(found.second).toBeCloseTo(0, 6);
    },
  );
});

test('a cone: k1 = cos α / r, k2 = 0', () => {
  const slope = 0.05;
  everywhere(
    ruledBlade((z) => circleSection(12 - slope * z), 600),
    (x, y) => {
      expectWithin(found.first, Math.cos(Math.atan(slope)) / Math.hypot(x, y));
      expect(Math.abs(found.second)).toBeLessThan(SHARE * found.first);
    },
  );
});

test('a waist of revolution: hollow along the span, so that K is negative', () => {
  const radius = (z: number) => 8 + 0.002 * (z - 60) ** 2;
  everywhere(
    ruledBlade((z) => circleSection(radius(z)), 600),
    (_x, _y, z) => {
      const slope = 0.004 * (z - 60);
      const across = 1 / (radius(z) * Math.sqrt(1 + slope * slope));
      const along = -0.004 / (1 + slope * slope) ** 1.5;
      expectWithin(found.first, across);
      expect(Math.abs(found.second - along)).toBeLessThan(SHARE * across);
      expect(found.gaussian).toBeCloseTo(across * along, 5);
      expect(Math.abs(found.mean - (across + along) / 2)).toBeLessThan(SHARE * across);
    },
  );
});

test('a twisted ellipse: fundamental forms of (R(τ z) (a cos t, b sin t), z) in closed form', () => {
  const [a, b, rate] = [12, 5, 0.004];
  const turned = (z: number): TestSection => {
    const ellipse = ellipseSection(a, b);
    const [cos, sin] = [Math.cos(rate * z), Math.sin(rate * z)];
    const stretches = ellipse.stretches.map((stretch) => (f: number): [number, number] => {
      const [x, y] = stretch(f);
      return [cos * x - sin * y, sin * x + cos * y];
    });
    return { ...ellipse, stretches };
  };
  everywhere(ruledBlade(turned, 1200), (x, y, z) => {
    const [cos, sin] = [Math.cos(rate * z), Math.sin(rate * z)];
    const [qx, qy] = [cos * x + sin * y, cos * y - sin * x];
    const t = Math.atan2(qy / b, qx / a);
    // In the turned frame: St = (q′, 0), Sz = (τ J q, 1), Stt = (−q, 0), Stz = (τ J q′, 0), Szz = (−τ² q, 0).
    const [dx, dy] = [-a * Math.sin(t), b * Math.cos(t)];
    const [sx, sy] = [-rate * qy, rate * qx];
    const normal = [dy, -dx, dx * sy - dy * sx];
    const size = Math.hypot(...normal);
    const second = (vx: number, vy: number) => (vx * normal[0] + vy * normal[1]) / size;
    const [e, f, g] = [second(-qx, -qy), second(-rate * dy, rate * dx), second(-rate * rate * qx, -rate * rate * qy)];
    const [E, F, G] = [dx * dx + dy * dy, dx * sx + dy * sy, sx * sx + sy * sy + 1];
    const square = E * G - F * F;
    expect(found.gaussian).toBeCloseTo((e * g - f * f) / square, 5);
    expect(Math.abs(found.mean * 2 * square + (e * G - 2 * f * F + g * E))).toBeLessThan(1e-3 * Math.abs(e * G));
  });
});
