import { describe, expect, it } from 'vitest';
import { fitOutline } from '../../src/fit/fit-outline.ts';
import { evaluateOutline } from '../../src/fit/outline-evaluate.ts';
import { outlineFoot } from '../../src/fit/outline-foot.ts';
import { findSectionEdges } from '../../src/fit/section-edges.ts';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import { measureSection } from '../../src/measure/measure-section.ts';
import { sectionOf } from './shapes.ts';

const DEG = 180 / Math.PI;
const LENGTH = 30;

/** Height and slope of a line of centres over x. */
interface Camber {
  height: (x: number) => number;
  slope: (x: number) => number;
}

const PARABOLA: Camber = {
  height: (x) => (16 * x * (LENGTH - x)) / LENGTH ** 2,
  slope: (x) => (16 * (LENGTH - 2 * x)) / LENGTH ** 2,
};
/** Bends most in its first half. */
const CUBIC: Camber = {
  height: (x) => (5 * x * (LENGTH - x) * (1.6 * LENGTH - x)) / LENGTH ** 3,
  slope: (x) => (5 * (1.6 * LENGTH ** 2 - 5.2 * LENGTH * x + 3 * x * x)) / LENGTH ** 3,
};

/** Points of the envelope of the discs r = 0.5 + 4 v − 4.2 v², v = x / L: contour = c + r (−r′ T ± √(1 − r′²) N). */
function envelope(camber: Camber, flank: number, cap: number): Float64Array {
  const radius = (x: number) => 0.5 + (4 * x) / LENGTH - (4.2 * x * x) / LENGTH ** 2;
  const side = (x: number, sign: number): [number, number] => {
    const slope = camber.slope(x);
    const speed = Math.hypot(1, slope);
    const k = (4 / LENGTH - (8.4 * x) / LENGTH ** 2) / speed;
    const q = sign * Math.sqrt(1 - k * k);
    const r = radius(x);
    return [x + (r * (-k - q * slope)) / speed, camber.height(x) + (r * (-k * slope + q)) / speed];
  };
  const points: number[] = [];
  const run = (i: number) => LENGTH * (0.5 - 0.5 * Math.cos((Math.PI * i) / flank));
  const round = (x: number, from: [number, number], to: [number, number]) => {
    const y = camber.height(x);
    const start = Math.atan2(from[1] - y, from[0] - x);
    const swing = (Math.atan2(to[1] - y, to[0] - x) - start + 4 * Math.PI) % (2 * Math.PI);
    for (let i = 0; i < cap; i++) {
      const angle = start + (swing * i) / cap;
      points.push(x + radius(x) * Math.cos(angle), y + radius(x) * Math.sin(angle));
    }
  };
  for (let i = 0; i < flank; i++) points.push(...side(run(i), -1));
  round(LENGTH, side(LENGTH, -1), side(LENGTH, 1));
  for (let i = 0; i < flank; i++) points.push(...side(LENGTH - run(i), 1));
  round(0, side(0, 1), side(0, -1));
  return Float64Array.from(points);
}

describe.each([
  ['parabola', PARABOLA],
  ['cubic', CUBIC],
])('camber line along a %s', (_, camber) => {
  const leading = Math.atan(camber.slope(0)) * DEG;
  const trailing = Math.atan(camber.slope(LENGTH)) * DEG;

  it.each([160, 360])('gives the directions at both ends, %i points a flank', (flank) => {
    const own = measureSection(sectionOf(envelope(camber, flank, flank / 4)));
    expect(Math.abs((own.metalAngleLeadingDeg.value as number) - leading)).toBeLessThan(2e-4);
    expect(Math.abs((own.metalAngleTrailingDeg.value as number) - trailing)).toBeLessThan(2e-4);
    expect(Math.abs((own.camberAngleDeg.value as number) - leading + trailing)).toBeLessThan(2e-4);
  });

  it('stays within its stated uncertainty with 5 µm noise', () => {
    const exact = sectionOf(envelope(camber, 360, 90));
    const points = envelope(camber, 700, 150);
    const out = new Float64Array(8);
    const seeds = 8;
    let bias = 0;
    let scaled = 0;
    let stated = 0;
    for (let seed = 1; seed <= seeds; seed++) {
      const normal = normalFrom(seededRandom(seed));
      const noisy = points.slice();
      for (let i = 0; i < points.length; i += 2) {
        evaluateOutline(exact.outline, outlineFoot(exact.outline, points[i], points[i + 1]).t, out);
        const error = (0.005 * normal()) / Math.hypot(out[2], out[3]);
        noisy[i] += error * out[3];
        noisy[i + 1] -= error * out[2];
      }
      const fitted = fitOutline(noisy);
      const own = measureSection({ outline: fitted.outline, edges: findSectionEdges(fitted.outline), fitted });
      const error = (own.camberAngleDeg.value as number) - leading + trailing;
      bias += error / seeds;
      stated += (own.camberAngleDeg.u as number) / seeds;
      scaled += (error / (own.camberAngleDeg.u as number)) ** 2 / seeds;
    }
    expect(Math.abs(bias)).toBeLessThan(1.5 * stated);
    expect(stated).toBeLessThan(0.25);
    expect(Math.sqrt(scaled)).toBeLessThan(2);
    expect(Math.sqrt(scaled)).toBeGreaterThan(0.3);
  });
});
