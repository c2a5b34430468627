import { describe, expect, it } from 'vitest';
import { localDistance, localPoint } from '../../samples/disk-envelope.ts';
import { alongOf, placeAtFraction, sectionArea } from '../../samples/section-area.ts';
import { type Piece, type SectionForm, TRAILING } from '../../samples/section-form.ts';
import { inscribedRadius, sectionValues } from '../../samples/section-values.ts';

const DEG = Math.PI / 180;

/** Camber arc of radius 50 turning 40°, disk radius 0.5 + 5u − 5.2u², arc ends on the X axis. */
const cambered: SectionForm = {
  arcRadius: 50,
  turning: 40 * DEG,
  leading: 0.5,
  trailing: 0.3,
  most: 0.5 + 25 / 20.8,
  offset: 0,
  angle: 0,
  x: 0,
  y: 50 * (1 - Math.cos(20 * DEG)),
  ratio: 1,
  peak: 0.42,
};
const elliptic: SectionForm = { ...cambered, ratio: 3, angle: -0.5, x: 2 };
const PIECES: Piece[] = [0, 1, 2, 3];

describe('the closed-form section', () => {
  it('gives the worked values of the cambered section', () => {
    const exact = sectionValues(cambered);
    const close = (value: number, expected: number) => expect(Math.abs(value - expected)).toBeLessThan(6e-7);
    close(exact.area, 89.201329);
    close(exact.perimeter, 72.586095);
    close(exact.centroidX, -0.498297);
    close(exact.centroidY, 2.2788);
    close(exact.ixx, 114.173038);
    close(exact.iyy, 6565.697255);
    close(exact.ixy, 52.021281);
    close(exact.principalAxisDeg, 0.461959);
    close(exact.chordFar, 35.002014);
    close(exact.chordBitangent, 35.00143);
    close(exact.staggerBitangentDeg, 0.335045);
    close(exact.chordAxial, 35.002014);
    close(exact.chordCamber, 34.953835);
    close(exact.staggerCamberDeg, 0.112127);
    close(exact.leadingEdge.pointX, -17.570853);
    close(exact.leadingEdge.pointY, -0.17101);
    close(exact.trailingEdge.pointX, 17.382915);
    close(exact.trailingEdge.pointY, -0.102606);
    close(exact.thicknessMax, 3.403846);
    close(exact.thicknessMaxAt, 0.480769);
    close(exact.camberMax, 3.015369);
    expect(exact.metalAngleLeadingDeg).toBeCloseTo(20, 12);
    expect(exact.metalAngleTrailingDeg).toBeCloseTo(-20, 12);
    const thickness = exact.thicknessAt.map(({ value }) => value);
    [1.896, 2.85, 3.4, 2.65, 1.576].forEach((value, i) => {
      expect(thickness[i]).toBeCloseTo(value, 12);
    });
  });

  it.each([
    ['circular', cambered],
    ['elliptic', elliptic],
  ])('%s edges: pieces join with one tangent, speed and distance agree with differences', (_name, form) => {
    const [a, b, c] = [new Float64Array(5), new Float64Array(5), new Float64Array(5)];
    const joints: [Piece, number, Piece, number][] = [
      [0, 1, 1, 0],
      [1, 1, 2, 1],
      [2, -1, 3, 1],
      [3, 0, 0, -1],
    ];
    for (const [piece, t, next, tNext] of joints) {
      localPoint(form, piece, t, a);
      localPoint(form, next, tNext, b);
      for (let i = 0; i < 4; i++) expect(a[i]).toBeCloseTo(b[i], 12);
    }
    const h = 1e-5;
    for (const piece of PIECES) {
      for (const t of [0.07, 0.3, 0.61, 0.94]) {
        localPoint(form, piece, t, a);
        localPoint(form, piece, t + h, b);
        localPoint(form, piece, t - h, c);
        const [dx, dy] = [(b[0] - c[0]) / (2 * h), (b[1] - c[1]) / (2 * h)];
        expect(dx * a[2] + dy * a[3]).toBeCloseTo(0, 6);
        expect(Math.hypot(dx, dy)).toBeCloseTo(a[4], 6);
        for (const off of [0.05, -0.02]) {
          localDistance(form, a[0] + off * a[2], a[1] + off * a[3], b);
          expect(b[0]).toBeCloseTo(off, 12);
          expect(b[1]).toBe(piece);
          expect(b[2]).toBeCloseTo(t, 9);
        }
      }
    }
  });

  it('finds the longest distance and the axial extent of elliptic edges as a search over points does', () => {
    const exact = sectionValues(elliptic);
    const points: number[][] = [];
    const node = new Float64Array(5);
    for (const piece of [0, 2] as Piece[]) {
      for (let i = 0; i <= 1500; i++) {
        localPoint(elliptic, piece, i / 750 - 1, node);
        points.push([node[0], node[1]]);
      }
    }
    let far = 0;
    let [low, high] = [Infinity, -Infinity];
    for (const [x, y] of points) {
      const across = x * Math.cos(elliptic.angle) - y * Math.sin(elliptic.angle);
      low = Math.min(low, across);
      high = Math.max(high, across);
    }
    for (const p of points.slice(0, 1501)) {
      for (const q of points.slice(1501)) far = Math.max(far, (p[0] - q[0]) ** 2 + (p[1] - q[1]) ** 2);
    }
    expect(exact.chordFar).toBeGreaterThanOrEqual(Math.sqrt(far) - 1e-12);
    expect(exact.chordFar).toBeCloseTo(Math.sqrt(far), 5);
    expect(exact.chordAxial).toBeCloseTo(high - low, 5);
  });

  it('inscribes circles in elliptic edges down to the nose radius b²/a', () => {
    expect(inscribedRadius(elliptic, 0)).toBeCloseTo(0.5 / 3, 12);
    expect(inscribedRadius(elliptic, 1)).toBeCloseTo(0.1, 12);
    expect(2 * inscribedRadius(elliptic, sectionValues(elliptic).thicknessMaxAt)).toBeCloseTo(2 * elliptic.most, 12);
  });

  it('walks the outline by arc length', () => {
    const half = alongOf(cambered, { piece: TRAILING, t: 0 });
    const other = -alongOf(cambered, { piece: TRAILING, t: -1e-12 });
    expect(half + other).toBeCloseTo(sectionArea(cambered).perimeter, 9);
    for (const fraction of [-1, -0.999, -0.5, -0.004, 0, 0.01, 0.3, 0.99]) {
      const along = alongOf(cambered, placeAtFraction(cambered, fraction));
      expect(along).toBeCloseTo(fraction * (fraction < 0 ? other : half), 9);
    }
  });
});
