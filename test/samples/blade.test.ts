import { describe, expect, it } from 'vitest';
import { deform, formAt, nominalBlade, surfacePoint } from '../../samples/blade.ts';
import { deviationAlongNormal, distanceToBlade, exactDeviation, nominalSurfacePoint } from '../../samples/deviation.ts';
import type { Piece } from '../../samples/section-form.ts';
import { sectionValues } from '../../samples/section-values.ts';

const PIECES: Piece[] = [0, 1, 2, 3];
const leaned = nominalBlade({ lean: [1.5, -2], bow: [0.4, 0.7] });
const changed = {
  twistDeg: [0, 0.25],
  bow: [0.02, 0.08] as [number, number],
  thickness: [0.03],
  centres: [-0.04],
  camberDeg: [0.1, -0.1],
  bands: [{ of: 'leading' as const, centre: 70, halfWidth: 30, amount: -0.04 }],
};

describe('the closed-form blade', () => {
  it('has the stated chord, thickness, edges and turn at root and tip', () => {
    for (const [z, chord, thickness, leading, trailing, turn, camber] of [
      [0, 45, 3.6, 0.45, 0.3, -18, 34],
      [120, 30, 1.2, 0.28, 0.2, -53, 22],
    ]) {
      const exact = sectionValues(formAt(nominalBlade(), z).form);
      expect(exact.chordFar).toBeCloseTo(chord, 12);
      expect(exact.staggerFarDeg).toBeCloseTo(turn, 9);
      expect(exact.thicknessMax).toBeCloseTo(thickness, 12);
      expect(exact.leadingEdge.radiusFit).toBeCloseTo(leading, 12);
      expect(exact.trailingEdge.radiusFit).toBeCloseTo(trailing, 12);
      expect(exact.camberAngleDeg).toBeCloseTo(camber, 10);
    }
  });

  it.each([
    ['bare', deform(leaned, changed)],
    ['elliptic', deform(nominalBlade({ ratio: 3, lean: [1, 1] }), changed)],
    ['filleted', nominalBlade({ fillet: { from: -4, radius: 90 } })],
  ])('%s: normals and areas agree with finite differences', (_name, blade) => {
    const [out, plus, minus] = [new Float64Array(7), new Float64Array(7), new Float64Array(7)];
    const h = 1e-5;
    for (const piece of PIECES) {
      for (const t of [0.1, 0.35, 0.8]) {
        for (const z of [3, 55, 118]) {
          surfacePoint(formAt(blade, z), piece, t, z, out);
          surfacePoint(formAt(blade, z), piece, t + h, z, plus);
          surfacePoint(formAt(blade, z), piece, t - h, z, minus);
          const a = [0, 1, 2].map((i) => (plus[i] - minus[i]) / (2 * h));
          surfacePoint(formAt(blade, z + h), piece, t, z + h, plus);
          surfacePoint(formAt(blade, z - h), piece, t, z - h, minus);
          const b = [0, 1, 2].map((i) => (plus[i] - minus[i]) / (2 * h));
          const cross = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
          const size = Math.hypot(...cross);
          const sense = cross[0] * out[3] + cross[1] * out[4] > 0 ? 1 : -1;
          for (let i = 0; i < 3; i++) expect((sense * cross[i]) / size).toBeCloseTo(out[3 + i], 7);
          expect(size / out[6]).toBeCloseTo(1, 7);
        }
      }
    }
  });

  it('measures distances along the normal back to their foot', () => {
    for (const piece of PIECES) {
      for (const t of [0.05, 0.4, 0.9]) {
        for (const height of [10, 64, 110]) {
          const [x, y, z, nx, ny, nz] = nominalSurfacePoint(leaned, { piece, t, height });
          for (const off of [-0.09, 0.25]) {
            const foot = distanceToBlade(leaned, x + off * nx, y + off * ny, z + off * nz);
            expect(foot.distance).toBeCloseTo(off, 11);
            expect(foot.piece).toBe(piece);
            expect(foot.t).toBeCloseTo(t, 8);
            expect(foot.height).toBeCloseTo(height, 9);
          }
        }
      }
    }
  });

  it('carries deviations both ways: the point met along the nominal normal lies on the measured surface', () => {
    const measured = deform(leaned, changed);
    for (const piece of PIECES) {
      for (const t of [0.1, 0.5, 0.85]) {
        const place = { piece, t, height: 66 };
        const reach = deviationAlongNormal(leaned, measured, place);
        const [x, y, z, nx, ny, nz] = nominalSurfacePoint(leaned, place);
        const point = Float64Array.of(x + reach * nx, y + reach * ny, z + reach * nz);
        expect(Math.abs(reach)).toBeGreaterThan(1e-4);
        expect(exactDeviation(point, measured)[0]).toBeCloseTo(0, 11);
        expect(exactDeviation(point, leaned)[0]).toBeCloseTo(reach, 11);
      }
    }
  });
});
