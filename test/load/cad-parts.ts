import type { BsplineCurve, BsplineSet, BsplineSurface } from '../../src/model/bspline.ts';

const H = Math.SQRT1_2;

/** A closed ellipse at a height as four rational quarters. */
export function ellipseCurve(a: number, b: number, z: number): BsplineCurve {
  const corners = [1, 0, 1, 1, 0, 1, -1, 1, -1, 0, -1, -1, 0, -1, 1, -1, 1, 0];
  return {
    degree: 2,
    knots: Float64Array.of(0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4),
    poles: Float64Array.from({ length: 27 }, (_, k) =>
      k % 3 === 2 ? z : [a, b][k % 3] * corners[2 * Math.floor(k / 3) + (k % 3)],
    ),
    weights: Float64Array.of(1, H, 1, H, 1, H, 1, H, 1),
  };
}

/** Ruled surface between two ellipses of half axes 20, 4 and 16, 3 at the heights 0 and 30. */
export function ellipticTaper(): BsplineSurface {
  const [low, high] = [ellipseCurve(20, 4, 0), ellipseCurve(16, 3, 30)];
  return {
    degreeU: 2,
    degreeV: 1,
    knotsU: low.knots,
    knotsV: Float64Array.of(0, 0, 1, 1),
    countU: 9,
    countV: 2,
    poles: Float64Array.of(...low.poles, ...high.poles),
    weights: Float64Array.of(...low.weights!, ...high.weights!),
  };
}

/** The taper with its end curves. */
export function taperSet(): BsplineSet {
  return {
    surfaces: [{ name: 'taper', surface: ellipticTaper() }],
    curves: [
      { name: 'A', curve: ellipseCurve(20, 4, 0) },
      { name: 'B', curve: ellipseCurve(16, 3, 30) },
    ],
  };
}

/** A plain patch with numbers that need all 17 digits, exponents of three, and zeros. */
export function awkwardPatch(): BsplineSurface {
  const values = [1 / 3, -1e-300, 5e-324, 1.2345678901234567e300, 0.1 + 0.2, -123456789.12345679, 1e21, 2 ** 53];
  return {
    degreeU: 2,
    degreeV: 1,
    knotsU: Float64Array.of(-1 / 7, -1 / 7, -1 / 7, 1 / 3, 1e5, 1e5, 1e5),
    knotsV: Float64Array.of(0, 0, 0.1, 0.1),
    countU: 4,
    countV: 2,
    poles: Float64Array.from({ length: 24 }, (_, k) => values[k % values.length] / (1 + Math.floor(k / 8))),
  };
}

export const OPTIONS = { name: "O'Part \\ Ω", timestamp: '2026-03-01T12:00:00' };
