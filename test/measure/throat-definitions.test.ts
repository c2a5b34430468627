import { describe, expect, it } from 'vitest';
import { discAt, flankAt, least, RAD } from './closed-forms.ts';
import { measureOf } from './measure-place.ts';
import { CAMBERED, diskPoints, moved, platePoints, sectionOf } from './shapes.ts';

const points = diskPoints(CAMBERED, 1400, 600);
const turnedBy = (deg: number) => measureOf(sectionOf(moved(points, deg * RAD, [0, 0], 0, 0)));

/** Gap between the end circle at fraction `u` and the upper flank of the section 25 below it, both turned. */
function gap(deg: number, u: number): number {
  const { x, y, radius } = discAt(u);
  const [dx, dy] = [25 * Math.sin(deg * RAD), 25 * Math.cos(deg * RAD)];
  const away = (v: number) => {
    const [px, py] = flankAt(v, 1);
    return Math.hypot(px - dx - x, py - dy - y);
  };
  return least(away, 0, 1) - radius;
}

describe('opening to a virtual neighbour', () => {
  it.each([
    [-35, 1, 15.546368],
    [35, 0, 15.325265],
  ])('of the cambered section turned by %d degrees', (deg, end, printed) => {
    const throat = turnedBy(deg)('throat', 'THROAT', { pitch: 25 });
    expect(gap(deg, end)).toBeCloseTo(printed, 5);
    expect(throat.value).toBeCloseTo(gap(deg, end), 5);
    expect(throat.evidence).toMatchObject({ virtual: true, leading: end === 0, atZoneEnd: false });
    expect(throat.reason).toContain('perfect neighbour');
    const { x1, y1, x2, y2 } = throat.evidence as Record<string, number>;
    expect(Math.hypot(x2 - x1, y2 - y1)).toBeCloseTo(throat.value as number, 8);
  });
  it('takes the pitch from the number of blades and the radius', () => {
    const measure = turnedBy(-35);
    const radius = (25 * 40) / (2 * Math.PI);
    const throat = measure('throat', 'THROAT', { blades: 40, radius });
    expect(throat.value).toBeCloseTo(gap(-35, 1), 5);
    expect(measure('throat', 'THROAT')).toMatchObject({ status: 'not-applicable', value: null });
  });
  it('is pitch × cos(stagger) less the thickness between flat plates, while they overlap', () => {
    const plate = platePoints(40, 0.6, 0.6, 1400, 600);
    const measure = measureOf(sectionOf(moved(plate, 30 * RAD, [0, 0], 0, 0)));
    expect(measure('throat', 'THROAT', { pitch: 20 }).value).toBeCloseTo(20 * Math.cos(30 * RAD) - 1.2, 5);
    const apart = measure('throat', 'THROAT', { pitch: 90 });
    expect(apart).toMatchObject({ status: 'not-applicable', value: null });
    expect(apart.reason).toContain('overlap');
  });
  it('is the same in the mirror, the neighbour on the other side', () => {
    const turned = moved(points, -35 * RAD, [0, 0], 0, 0);
    const mirrored = Float64Array.from(turned, (_, k) => {
      const i = turned.length / 2 - 1 - (k >> 1);
      return k % 2 === 0 ? turned[2 * i] : -turned[2 * i + 1];
    });
    const measure = measureOf(sectionOf(mirrored));
    const throat = measure('throat', 'THROAT', { pitch: 25 });
    expect(throat.value).toBeCloseTo(gap(-35, 1), 5);
    expect(throat.evidence?.shift).toBe(25);
    expect(measure('throat', 'THROAT', { pitch: 25, neighbour: '+Y' }).value).toBeCloseTo(throat.value as number, 9);
    expect(measure('throat', 'THROAT', { pitch: 25, neighbour: '-Y' }).status).toBe('not-applicable');
  });
});
