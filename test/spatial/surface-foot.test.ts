import { expect, test } from 'vitest';
import { emptyFeet, nominalFeet } from '../../src/spatial/nominal-feet.ts';
import { evaluateSurface, PLACE_SIZE, placeNormal } from '../../src/spatial/surface-evaluate.ts';
import { exactTarget } from '../support/exact-nominal.ts';

const target = exactTarget(9, 400);

/** Points above or below the ends of the span, off the surface by up to 0.2 mm. */
function beyondEnds(): Float64Array {
  const { columns } = target.surface;
  const place = new Float64Array(PLACE_SIZE);
  const normal = new Float64Array(3);
  const points: number[] = [];
  for (let i = 0; i < 600; i++) {
    const u = columns[0] + ((i + 0.5) / 600) * (columns[columns.length - 1] - columns[0]);
    const low = i % 2 === 0;
    evaluateSurface(target.surface, u, low ? 0 : 120, place);
    placeNormal(target.surface, place, normal);
    const off = 0.2 * Math.sin(i);
    const past = 0.3 + 0.9 * ((i * 0.37) % 1);
    points.push(place[0] + off * normal[0], place[1] + off * normal[1], low ? -past : 120 + past);
  }
  return Float64Array.from(points);
}

test('points past the ends of the span have their foot at the end and say so', () => {
  const points = beyondEnds();
  const feet = emptyFeet(600);
  nominalFeet(target, points, null, 0, 600, feet);
  for (let i = 0; i < 600; i++) expect(feet.border[i], `point ${i}`).toBe(1);
});

test('the foot is the nearest place: brute force over a fine grid finds nothing nearer', () => {
  const { columns } = target.surface;
  const place = new Float64Array(PLACE_SIZE);
  const points = [
    [-20, 8, 12],
    [3, 1.5, 55],
    [14, -9.7, 61],
    [0.4, -0.9, 118],
    [-9, 7, 90],
  ];
  const feet = emptyFeet(points.length);
  nominalFeet(target, Float64Array.from(points.flat()), null, 0, points.length, feet);
  points.forEach(([x, y, z], i) => {
    let nearest = Number.POSITIVE_INFINITY;
    for (let r = 0; r <= 480; r++) {
      for (const u of columns) {
        evaluateSurface(target.surface, u, r / 4, place);
        nearest = Math.min(nearest, Math.hypot(place[0] - x, place[1] - y, place[2] - z));
      }
    }
    expect(Math.abs(feet.deviation[i])).toBeLessThanOrEqual(nearest + 1e-9);
    expect(Math.abs(feet.deviation[i])).toBeGreaterThan(nearest - 0.05);
  });
});
