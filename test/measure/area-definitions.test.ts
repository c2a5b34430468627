import { describe, expect, it } from 'vitest';
import { nacaMoments, plateMoments, RAD } from './closed-forms.ts';
import { type Measure, measureOf } from './measure-place.ts';
import {
  CAMBERED,
  diskPoints,
  ellipsePoints,
  joukowskiPoints,
  moved,
  nacaPoints,
  platePoints,
  sectionOf,
} from './shapes.ts';

const amount = (measure: Measure, id: string) => measure('area-property', id).value as number;
function expectShare(measure: Measure, expected: Record<string, number>, share = 1e-6) {
  for (const [id, right] of Object.entries(expected)) {
    const value = amount(measure, id);
    expect(Math.abs(value / right - 1), `${id} ${value} for ${right}`).toBeLessThan(share);
  }
}

describe('area properties', () => {
  it.each([
    [1, 1400, 600],
    [3, 1000, 1000],
  ])('of a plate with ends %d : 1', (a, flank, cap) => {
    const { area, ixx, iyy } = plateMoments(40, a, 1);
    const plate = measureOf(sectionOf(platePoints(40, a, 1, flank, cap)));
    expectShare(plate, { AREA: area, 'I-XX': ixx, 'I-YY': iyy, 'I-1': ixx, 'I-2': iyy });
    expect(amount(plate, 'I-XY')).toBeCloseTo(0, 4);
    expect(amount(plate, 'PRINCIPAL-AXIS')).toBeCloseTo(0, 6);
    expectShare(plate, { PERIMETER: a === 1 ? 76 + 2 * Math.PI : 81.364893 });
  });
  it('of an ellipse', () => {
    const [a, b] = [20, 2];
    const ellipse = measureOf(sectionOf(ellipsePoints(a, b, 4000)));
    const [ixx, iyy] = [(Math.PI * a * b ** 3) / 4, (Math.PI * a ** 3 * b) / 4];
    expectShare(ellipse, {
      AREA: Math.PI * a * b,
      PERIMETER: 81.279484,
      'I-XX': ixx,
      'I-YY': iyy,
      'I-1': ixx,
      'I-2': iyy,
    });
  });
  it('of the cambered section, to the digits of an independent computation', () => {
    const cambered = measureOf(sectionOf(diskPoints(CAMBERED, 1400, 600)));
    expectShare(cambered, {
      AREA: 89.201329,
      PERIMETER: 72.586095,
      'CENTROID-X': -0.498297,
      'CENTROID-Y': 2.2788,
      'I-XX': 114.173038,
      'I-YY': 6565.697255,
      'I-XY': 52.021281,
      'PRINCIPAL-AXIS': 0.461959,
      'I-1': 113.753596,
      'I-2': 6566.116696,
    });
    expect(cambered('area-property', 'I-1').unit).toBe('mm4');
  });
  it('of the closed and of the cusped section', () => {
    const { area, centroid, ixx, iyy } = nacaMoments();
    const naca = measureOf(sectionOf(nacaPoints(1, 2000), [0]));
    expectShare(naca, { AREA: area, 'CENTROID-X': centroid, 'I-XX': ixx, 'I-YY': iyy, PERIMETER: 2.039549 });
    const joukowski = measureOf(sectionOf(joukowskiPoints(4000), [0]));
    const [a, e] = [1.1, 0.1];
    expectShare(joukowski, {
      AREA: Math.PI * (a * a - (a * a) / (a * a - e * e) ** 2),
      'CENTROID-X': -0.516667,
      PERIMETER: 8.230023,
    });
  });
  it('turn with the section, the principal ones staying', () => {
    const points = diskPoints(CAMBERED, 1400, 600);
    const was = measureOf(sectionOf(points));
    const turned = measureOf(sectionOf(moved(points, 33 * RAD, [3, -8], 120, -45)));
    for (const id of ['AREA', 'PERIMETER', 'I-1', 'I-2']) expectShare(turned, { [id]: amount(was, id) }, 1e-9);
    expect(amount(turned, 'PRINCIPAL-AXIS')).toBeCloseTo(amount(was, 'PRINCIPAL-AXIS') + 33, 7);
    const [xx, yy, xy] = ['I-XX', 'I-YY', 'I-XY'].map((id) => amount(was, id));
    const [c, s] = [Math.cos(33 * RAD), Math.sin(33 * RAD)];
    expectShare(turned, {
      'I-XX': c * c * xx + s * s * yy + 2 * s * c * xy,
      'I-XY': s * c * (yy - xx) + (c * c - s * s) * xy,
    });
  });
});
