import { describe, expect, it } from 'vitest';
import { definitionsOf } from '../../src/measure/definitions/definitions.ts';
import { cutLength, discAt, least, RAD } from './closed-forms.ts';
import { measureOf } from './measure-place.ts';
import {
  CAMBERED,
  diskPoints,
  ellipsePoints,
  joukowskiPoints,
  moved,
  nacaHalf,
  nacaPoints,
  platePoints,
  sectionOf,
} from './shapes.ts';

const points = diskPoints(CAMBERED, 1400, 600);
const cambered = measureOf(sectionOf(points));
const FRACTIONS = [0.1, 0.25, 0.5, 0.75, 0.9];
/** CH-FAR of that section lies along X from −reach − 0.5 to reach + 0.3. */
const reach = 50 * Math.sin(20 * RAD);
const stationOf = (fraction: number) => -reach - 0.5 + fraction * (2 * reach + 0.8);

describe('thickness at a fraction', () => {
  it('leads with the inscribed circle', () => {
    expect(definitionsOf('thickness').map((d) => d.id)).toEqual(['T-MIC', 'T-ORD', 'T-CAM']);
    expect(definitionsOf('thickness-max').map((d) => d.id)).toEqual(['T-MIC', 'T-ORD', 'T-CAM', 'T-POS']);
  });
  it('of the inscribed circle, along the centres and along the chord', () => {
    for (const at of FRACTIONS) {
      const along = cambered('thickness', 'T-MIC', {}, { at });
      expect(along.value).toBeCloseTo(2 * CAMBERED.radius(at), 5);
      expect(along.parameters).toEqual({ fraction: at, along: 'centres' });
      expect(along.evidence?.centreX).toBeCloseTo(discAt(at).x, 5);
      const u = (Math.asin(stationOf(at) / 50) / RAD + 20) / 40;
      const onChord = cambered('thickness', 'T-MIC', { along: 'chord' }, { at });
      expect(onChord.value).toBeCloseTo(2 * CAMBERED.radius(u), 5);
    }
  });
  it('of the cut across the chord and across the line of centres', () => {
    for (const at of FRACTIONS) {
      const cut = cambered('thickness', 'T-ORD', {}, { at });
      expect(cut.value).toBeCloseTo(cutLength(stationOf(at), 0, 1, 0), 5);
      const { x1, y1, x2, y2 } = cut.evidence as Record<string, number>;
      expect(Math.hypot(x2 - x1, y2 - y1)).toBeCloseTo(cut.value as number, 9);
      expect(x1).toBeCloseTo(stationOf(at), 6);
      const { x, y, tx, ty } = discAt(at);
      expect(cambered('thickness', 'T-CAM', {}, { at }).value).toBeCloseTo(cutLength(x, y, tx, ty), 5);
    }
  });
  it('of the cut across other chords', () => {
    for (const chord of ['CH-BT', 'CH-CAM']) {
      const { x1, y1, x2, y2 } = cambered('chord', chord).evidence as Record<string, number>;
      const length = Math.hypot(x2 - x1, y2 - y1);
      const right = cutLength(x1 + 0.3 * (x2 - x1), y1 + 0.3 * (y2 - y1), (x2 - x1) / length, (y2 - y1) / length);
      expect(cambered('thickness', 'T-ORD', { chord }, { at: 0.3 }).value).toBeCloseTo(right, 5);
    }
    const centres = cambered('thickness', 'T-ORD', { chord: 'CENTRES' }, { at: 0.3 });
    expect(centres.value).toBeCloseTo(cutLength(-0.4 * reach, 0, 1, 0), 5);
  });
  it('differs between circle and cut near the nose', () => {
    const naca = measureOf(sectionOf(nacaPoints(1, 2000), [0]));
    [0.05, 0.1, 0.5, 0.9].forEach((at, k) => {
      expect(naca('thickness', 'T-ORD', {}, { at }).value).toBeCloseTo(2 * nacaHalf(at), 6);
      expect(naca('thickness', 'T-MIC', { along: 'chord' }, { at }).value).toBeCloseTo(
        [0.067518, 0.092236, 0.105506, 0.027079][k],
        6,
      );
    });
    const ellipse = measureOf(sectionOf(ellipsePoints(20, 2, 4000)));
    expect(ellipse('thickness', 'T-ORD', {}, { at: 0.75 }).value).toBeCloseTo(4 * Math.sqrt(0.75), 5);
    const circle = ellipse('thickness', 'T-MIC', { along: 'chord' }, { at: 0.75 });
    expect(circle.value).toBeCloseTo(4 * Math.sqrt(1 - 100 / 396), 5);
  });
  it('needs a fraction outside the edges, and a chord', () => {
    for (const id of ['T-MIC', 'T-ORD', 'T-CAM']) {
      expect(cambered('thickness', id).status).toBe('not-applicable');
      expect(cambered('thickness', id, {}, { at: 1.2 })).toMatchObject({ status: 'not-applicable', value: null });
    }
    const plate = measureOf(sectionOf(platePoints(40, 1, 1, 1400, 600)));
    expect(plate('thickness', 'T-ORD', { chord: 'CH-BT' }, { at: 0.5 })).toMatchObject({
      status: 'not-applicable',
      evidence: { flat: true },
    });
  });
  it('stays the same when the section turns', () => {
    const turned = measureOf(sectionOf(moved(points, 33 * RAD, [3, -8], 120, -45)));
    for (const id of ['T-MIC', 'T-ORD', 'T-CAM']) {
      const was = cambered('thickness', id, {}, { at: 0.25 }).value as number;
      expect(turned('thickness', id, {}, { at: 0.25 }).value).toBeCloseTo(was, 7);
      expect(turned('thickness-max', id).value).toBeCloseTo(cambered('thickness-max', id).value as number, 7);
    }
  });
});

describe('greatest thickness', () => {
  it('of circle, cut across the chord and cut across the line of centres', () => {
    expect(cambered('thickness-max', 'T-MIC').value).toBeCloseTo(1 + 25 / 10.4, 5);
    const ordinate = -least((x) => -cutLength(x, 0, 1, 0), -6, 6);
    expect(cambered('thickness-max', 'T-ORD').value).toBeCloseTo(ordinate, 5);
    const across = -least((u) => -cutLength(discAt(u).x, discAt(u).y, discAt(u).tx, discAt(u).ty), 0.3, 0.7);
    expect(cambered('thickness-max', 'T-CAM').value).toBeCloseTo(across, 5);
  });
  it('has a place on the line of centres and on the chord', () => {
    expect(cambered('thickness-max', 'T-POS').value).toBeCloseTo(5 / 10.4, 5);
    const along = (discAt(5 / 10.4).x + reach + 0.5) / (2 * reach + 0.8);
    expect(cambered('thickness-max', 'T-POS', { along: 'chord' }).value).toBeCloseTo(along, 5);
  });
  it('is the same by all on symmetric sections', () => {
    const naca = measureOf(sectionOf(nacaPoints(1, 2000), [0]));
    const joukowski = measureOf(sectionOf(joukowskiPoints(4000), [0]));
    const most = -least((x) => -2 * nacaHalf(x), 0.1, 0.6);
    for (const id of ['T-MIC', 'T-ORD', 'T-CAM']) {
      expect(naca('thickness-max', id).value).toBeCloseTo(most, 6);
      expect(joukowski('thickness-max', id).value).toBeCloseTo(0.47533, 6);
    }
    expect(naca('thickness-max', 'T-POS', { along: 'chord' }).value).toBeCloseTo(0.299528, 5);
    expect(joukowski('thickness-max', 'T-POS', { along: 'chord' }).value).toBeCloseTo(0.253093, 5);
  });
  it('has no place on parallel flanks, but an interval', () => {
    const plate = measureOf(sectionOf(platePoints(40, 1, 1, 1400, 600)));
    // The spline rings by some 6 nm a side where the curvature jumps.
    for (const id of ['T-MIC', 'T-ORD', 'T-CAM'])
      expect(Math.abs((plate('thickness-max', id).value as number) - 2)).toBeLessThan(1.3e-5);
    const place = plate('thickness-max', 'T-POS');
    expect(place).toMatchObject({ status: 'not-applicable', value: null, evidence: { plateau: true } });
    const [from, to] = (place.evidence?.interval ?? []) as number[];
    expect(from).toBeLessThan(0.1);
    expect(to).toBeGreaterThan(0.9);
  });
});
