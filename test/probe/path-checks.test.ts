import { expect, test } from 'vitest';
import { evaluateOutline } from '../../src/fit/outline-evaluate.ts';
import type { SectionPoints } from '../../src/model/shape.ts';
import { compensateProbe } from '../../src/probe/compensate-probe.ts';
import { fitCompensated } from '../../src/probe/fit-compensated.ts';
import { probedSection } from './round-edged.ts';

const RHO = 1;
/** Half the turn of the hollow (rad). */
const BEND = (20 * Math.PI) / 180;
const HALF = 8;
const ROUND = 2.5;

/**
 * A boat-shaped part: round ends of radius 2.5 at x = ±8, a flat bottom, and a top of two flats that fall to the middle,
 * where they meet in a sharp hollow. Returned is the path of a ball's centre, which meets in a hollow too, rho above.
 */
function boat(height: number): SectionPoints {
  const points: number[] = [];
  const reach = ROUND + RHO;
  const line = (x0: number, y0: number, x1: number, y1: number): void => {
    const count = Math.round(Math.hypot(x1 - x0, y1 - y0) / 0.05);
    for (let i = 0; i < count; i++) points.push(x0 + ((x1 - x0) * i) / count, y0 + ((y1 - y0) * i) / count);
  };
  const arc = (x: number, from: number, to: number): void => {
    const count = 120;
    for (let i = 0; i < count; i++) {
      const angle = from + ((to - from) * i) / count;
      points.push(x + reach * Math.cos(angle), reach * Math.sin(angle));
    }
  };
  // On the right the top's normal points left of straight up: the flat falls towards the middle.
  const top = Math.PI / 2 + BEND;
  const [rightX, rightY] = [HALF + reach * Math.cos(top), reach * Math.sin(top)];
  const bottom = rightY - Math.tan(BEND) * rightX;
  arc(HALF, -Math.PI / 2, top);
  line(rightX, rightY, 0, bottom);
  line(0, bottom, -rightX, rightY);
  arc(-HALF, Math.PI - top, (3 * Math.PI) / 2);
  line(-HALF, -reach, HALF, -reach);
  return { id: `z${height}`, height, points: Float64Array.from(points) };
}

test('a hollow that the ball cannot reach into is left out, with a warning', () => {
  const done = compensateProbe([boat(0), boat(10)], { tipRadius: RHO });
  expect(done.warnings.map(({ code, where }) => [code, where])).toEqual([
    ['probe/double-contact', 'section z0'],
    ['probe/double-contact', 'section z10'],
  ]);
  const { points, path } = done.sections[0];
  expect(points.length).toBeLessThan(path.points.length);
  expect(points.length).toBeGreaterThan(path.points.length - 60);
  // The two contacts of the ball in the hollow; between them nothing is said.
  const contact = RHO * Math.sin(BEND);
  for (let i = 0; i < points.length; i += 2) {
    const [x, y] = [points[i], points[i + 1]];
    if (y < 0 || Math.abs(x) > 5) continue;
    expect(Math.abs(x)).toBeGreaterThan(contact - 0.03);
  }
  const { outline, gaps } = fitCompensated(done.sections[0]);
  expect(gaps).toHaveLength(1);
  const middle = new Float64Array(8);
  evaluateOutline(outline, (gaps[0][0] + gaps[0][1]) / 2, middle);
  expect(Math.abs(middle[0])).toBeLessThan(0.1);
});

test('the same path is a sound one for a ball that fits', () => {
  const round = [0, 10].map((height) => ({ ...boat(height), points: softened(boat(height).points, 4) }));
  expect(compensateProbe(round, { tipRadius: RHO }).warnings).toEqual([]);
});

/** Lifts the hollow to an arc of the given radius, tangent to both flats. */
function softened(points: Float64Array, radius: number): Float64Array {
  const out = points.slice();
  const bottom = Math.min(
    ...Array.from(points).filter((_, i) => i % 2 === 1 && points[i] > -ROUND && Math.abs(points[i - 1]) < 1),
  );
  const centre = bottom + radius / Math.cos(BEND);
  for (let i = 0; i < out.length; i += 2) {
    if (out[i + 1] < -ROUND || Math.abs(out[i]) > radius * Math.sin(BEND)) continue;
    out[i + 1] = centre - Math.sqrt(radius * radius - out[i] * out[i]);
  }
  return out;
}

test('an edge that the ball only turns round is a corner, where it is', () => {
  const sections = [0, 8].map((height, i) =>
    probedSection({ edge: 0, lean: 0.1 }, height, RHO, { sigma: 0.002, seed: 20 + i }),
  );
  const done = compensateProbe(sections, { tipRadius: RHO });
  expect(done.warnings.map(({ code }) => code)).toEqual(['probe/sharp-edge', 'probe/sharp-edge']);
  for (const section of done.sections) {
    expect(section.corners).toHaveLength(2);
    for (const corner of section.corners) {
      const [x, y] = section.points.subarray(2 * corner, 2 * corner + 2);
      expect(Math.abs(Math.abs(x) - 20)).toBeLessThan(0.004);
      expect(Math.abs(y - Math.tan(0.1) * section.height)).toBeLessThan(0.004);
    }
    expect(fitCompensated(section).outline.corners).toHaveLength(2);
  }
  const small = [0, 8].map((height, i) =>
    probedSection({ edge: 0.08, lean: 0.1 }, height, RHO, { sigma: 0.002, seed: 30 + i }),
  );
  expect(compensateProbe(small, { tipRadius: RHO }).warnings).toEqual([]);
});
