import { describe, expect, it } from 'vitest';
import type { EdgeName } from '../../src/measure/definitions/definition.ts';
import { discAt, RAD } from './closed-forms.ts';
import { measureOf } from './measure-place.ts';
import { CAMBERED, diskPoints, moved, nacaPoints, platePoints, sectionOf } from './shapes.ts';

const points = diskPoints(CAMBERED, 1400, 600);
const cambered = measureOf(sectionOf(points));
const EDGES: EdgeName[] = ['leading', 'trailing'];

/** Slope at x of the quadratic with the least squares to y over its points, all of the same weight, as an angle (°). */
function quadraticAngle(x: number[], y: number[], at: number): number {
  const n = x.length;
  const sum = (f: (i: number) => number) => x.reduce((s, _, i) => s + f(i), 0);
  const m = sum((i) => x[i]) / n;
  const scale = Math.max(...x) - m;
  const z = x.map((v) => (v - m) / scale);
  const [z2, z3, z4] = [2, 3, 4].map((p) => sum((i) => z[i] ** p) / n);
  const [a, b, c] = [0, 1, 2].map((p) => sum((i) => y[i] * z[i] ** p) / n);
  // Normal equations of p + q z + r z² with the mean of z being 0.
  const det = z2 * z4 - z3 * z3 - z2 * z2 * z2;
  const q = (b * (z4 - z2 * z2) - z3 * (c - z2 * a)) / det;
  const r = (z2 * (c - z2 * a) - z3 * b) / det;
  return Math.atan((q + (2 * r * (at - m)) / scale) / scale) / RAD;
}

/** That angle for a window (%) of the circular line of centres, at the edge point of its straight extension. */
function windowAngle(which: EdgeName, from: number, to: number): number {
  const count = 20000;
  const places = Array.from({ length: count }, (_, i) => (from + ((i + 0.5) / count) * (to - from)) / 100);
  const discs = places.map((u) => discAt(which === 'leading' ? u : 1 - u));
  const end = discAt(which === 'leading' ? 0 : 1);
  const edge = end.x + (which === 'leading' ? -1 : 1) * end.radius * end.tx;
  return quadraticAngle(
    discs.map((d) => d.x),
    discs.map((d) => d.y),
    edge,
  );
}

describe('metal angles', () => {
  it('are those of the arc at the end circles', () => {
    expect(cambered('metal-angle', 'MA-END', {}, { edge: 'leading' }).value).toBeCloseTo(20, 5);
    expect(cambered('metal-angle', 'MA-END', {}, { edge: 'trailing' }).value).toBeCloseTo(-20, 5);
    const from = cambered('metal-angle', 'MA-END', { axis: 'tangential' }, { edge: 'leading' });
    expect(from.value).toBeCloseTo(70, 5);
  });
  it.each([
    [2, 12],
    [5, 25],
  ])('are extrapolated from a quadratic over %d to %d percent', (from, to) => {
    for (const edge of EDGES) {
      const value = cambered('metal-angle', 'MA-WIN', { from, to }, { edge });
      expect(value.value).toBeCloseTo(windowAngle(edge, from, to), 5);
      expect(value.parameters).toEqual({ from, to, form: 'quadratic', axis: 'axial' });
      expect(value.evidence?.windowFrom).toBeCloseTo(from, 9);
      expect(value.evidence?.windowTo).toBeCloseTo(to, 9);
    }
    expect(windowAngle('leading', 2, 12)).toBeCloseTo(20.49, 2);
  });
  it('are exact on an arc when the form is a circle', () => {
    const lead = cambered('metal-angle', 'MA-WIN', { form: 'circle' }, { edge: 'leading' });
    expect(lead.value).toBeCloseTo(20 + Math.atan(0.5 / 50) / RAD, 5);
    const trail = cambered('metal-angle', 'MA-WIN', { form: 'circle' }, { edge: 'trailing' });
    expect(trail.value).toBeCloseTo(-20 - Math.atan(0.3 / 50) / RAD, 5);
  });
  it('turn with the section', () => {
    const turned = measureOf(sectionOf(moved(points, 33 * RAD, [3, -8], 120, -45)));
    for (const form of ['quadratic', 'circle'])
      for (const edge of EDGES) {
        const was = cambered('metal-angle', 'MA-WIN', { form }, { edge }).value as number;
        expect(turned('metal-angle', 'MA-WIN', { form }, { edge }).value).toBeCloseTo(was + 33, 5);
      }
  });
  it('belong to an edge, and need a window with circles', () => {
    expect(cambered('metal-angle', 'MA-WIN').status).toBe('not-applicable');
    const reversed = cambered('metal-angle', 'MA-WIN', { from: 12, to: 2 }, { edge: 'leading' });
    expect(reversed.status).toBe('not-applicable');
    const plate = measureOf(sectionOf(platePoints(40, 1, 1, 1400, 600)));
    for (const form of ['quadratic', 'circle'])
      expect(plate('metal-angle', 'MA-WIN', { form }, { edge: 'leading' }).value).toBeCloseTo(0, 4);
  });
});

describe('camber', () => {
  /** The arc is 50 about (0, −50 cos 20°); its highest place over a line lies across that line from the middle. */
  const drop = 50 * Math.cos(20 * RAD);
  it('angles', () => {
    expect(cambered('camber-angle', 'MA-END').value).toBeCloseTo(40, 5);
    expect(cambered('camber-angle', 'CAMBER-ARC').value).toBeCloseTo(40, 4);
    const turn = windowAngle('leading', 2, 12) - windowAngle('trailing', 2, 12);
    expect(cambered('camber-angle', 'MA-WIN').value).toBeCloseTo(turn, 5);
    const mirrored = Float64Array.from(points, (_, k) => {
      const i = points.length / 2 - 1 - (k >> 1);
      return k % 2 === 0 ? points[2 * i] : -points[2 * i + 1];
    });
    const under = measureOf(sectionOf(mirrored));
    for (const id of ['MA-END', 'MA-WIN', 'CAMBER-ARC'])
      expect(under('camber-angle', id).value).toBeCloseTo(-(cambered('camber-angle', id).value as number), 5);
    expect(under('camber-max', 'F-MAX').value).toBeCloseTo(50 - drop, 5);
  });
  it('height over the end-circle centres', () => {
    expect(cambered('camber-max', 'F-MAX').value).toBeCloseTo(50 - drop, 5);
    expect(cambered('camber-max', 'F-POS').value).toBeCloseTo(0.5, 6);
  });
  it('height over the chord of edge points', () => {
    const { x1, y1, x2, y2 } = cambered('chord', 'CH-CAM').evidence as Record<string, number>;
    const length = Math.hypot(x2 - x1, y2 - y1);
    const [dx, dy] = [(x2 - x1) / length, (y2 - y1) / length];
    const below = (y1 + drop) * dx - x1 * dy;
    expect(cambered('camber-max', 'F-MAX', { chord: 'CH-CAM' }).value).toBeCloseTo(50 - below, 5);
    const foot = (-x1 * dx - (y1 + drop) * dy) / length;
    expect(cambered('camber-max', 'F-POS', { chord: 'CH-CAM' }).value).toBeCloseTo(foot, 6);
  });
  it('of a symmetric section is none, at no place', () => {
    const straight = measureOf(sectionOf(nacaPoints(1, 2000), [0]));
    expect(straight('camber-max', 'F-MAX').value).toBeCloseTo(0, 7);
    expect(straight('camber-max', 'F-POS')).toMatchObject({ status: 'not-applicable', value: null });
  });
});
