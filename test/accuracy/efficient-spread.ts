import { edgeHalfAngle, LEADING, PRESSURE, SUCTION, TRAILING } from '../../samples/section-form.ts';
import { solveSymmetric } from '../../src/math/least-squares.ts';
import {
  type PointCounts,
  REFERENCE_SECTIONS,
  type ReferenceName,
  referencePoint,
} from '../support/reference-sections.ts';

/** Least spread an unbiased estimate can have (Cramer-Rao), of the rows whose model is known. */

const STEPS = 4000;
const RADIUS_HALF_ANGLE = Math.PI / 3;

/** Change of the outline along its normal by each parameter, and the arc length there. */
interface Place {
  slopes: number[];
  length: number;
}

/** Standard deviation of every parameter for unit noise of points spread evenly by arc length over the places. */
function leastSpread(stretches: { places: Place[]; points: number }[]): number[] {
  const m = stretches[0].places[0].slopes.length;
  const information = new Float64Array(m * m);
  for (const { places, points } of stretches) {
    const whole = places.reduce((sum, { length }) => sum + length, 0);
    for (const { slopes, length } of places)
      for (let a = 0; a < m; a++)
        for (let b = 0; b < m; b++) information[m * a + b] += ((points * length) / whole) * slopes[a] * slopes[b];
  }
  return Array.from({ length: m }, (_, k) => {
    const unit = new Float64Array(m);
    unit[k] = 1;
    return Math.sqrt(solveSymmetric(information, unit)?.[k] ?? Number.NaN);
  });
}

/** Least spread of the radius of a free circle over an arc of a half angle (rad). */
export function circleSpread(halfAngle: number, points: number): number {
  const places = steps().map((t): Place => {
    const angle = halfAngle * t;
    return { slopes: [Math.cos(angle), Math.sin(angle), 1], length: 1 };
  });
  return leastSpread([{ places, points }])[2];
}

/** Least spreads of the semi-axes of half an ellipse with free place and axis, and of b where a : b is known. */
export function ellipseSpread(a: number, b: number, points: number): { a: number; b: number; bOfRatio: number } {
  const arc = steps().map((t) => {
    const [c, s] = [Math.cos(0.5 * Math.PI * t), Math.sin(0.5 * Math.PI * t)];
    const size = Math.hypot(b * c, a * s);
    const [nx, ny] = [(b * c) / size, (a * s) / size];
    return { motion: [nx, ny, a * c * ny - b * s * nx], byA: c * nx, byB: s * ny, length: Math.hypot(a * s, b * c) };
  });
  const free = arc.map(({ motion, byA, byB, length }) => ({ slopes: [...motion, byA, byB], length }));
  const ofRatio = arc.map(({ motion, byA, byB, length }) => ({ slopes: [...motion, (a / b) * byA + byB], length }));
  const [, , , ofA, ofB] = leastSpread([{ places: free, points }]);
  return { a: ofA, b: ofB, bOfRatio: leastSpread([{ places: ofRatio, points }])[3] };
}

/** Least spreads of a shift in x and y and a turn (rad) about the pivot, of a section against its own outline. */
export function motionSpread(name: ReferenceName, counts: PointCounts, pivot: readonly [number, number]): number[] {
  const out = new Float64Array(5);
  const stretches = ([LEADING, PRESSURE, TRAILING, SUCTION] as const).map((piece) => {
    const edge = piece === LEADING || piece === TRAILING;
    const places = steps().map((t): Place => {
      referencePoint(REFERENCE_SECTIONS[name], piece, edge ? t : 0.5 + 0.5 * t, out);
      const [x, y, nx, ny, length] = out;
      return { slopes: [nx, ny, (x - pivot[0]) * ny - (y - pivot[1]) * nx], length };
    });
    return { places, points: edge ? counts.edge : counts.flank };
  });
  return leastSpread(stretches);
}

/** Returns the least spread of the rows whose model is known, in the unit of the row. */
export function efficientSpreads(
  name: ReferenceName,
  noise: number,
  counts: PointCounts,
  pivot: readonly [number, number],
): Map<string, number> {
  const { form, trailing } = REFERENCE_SECTIONS[name];
  const um = 1000 * noise;
  const rows = new Map<string, number>();
  for (const [edge, own, b, piece] of [
    ['le', form, form.leading, LEADING],
    ['te', trailing, trailing.trailing, TRAILING],
  ] as const) {
    if (own.ratio === 1) {
      const half = edgeHalfAngle(own, piece);
      rows.set(`${edge}_radius`, um * circleSpread(half, counts.edge));
      const within = Math.min(1, RADIUS_HALF_ANGLE / half);
      rows.set(`${edge}_radius_60deg`, um * circleSpread(within * half, within * counts.edge));
    } else {
      const spread = ellipseSpread(own.ratio * b, b, counts.edge);
      rows.set(`${edge}_semi_minor_fixed_ratio`, um * spread.bOfRatio);
      rows.set(`${edge}_semi_minor_free`, um * spread.b);
      rows.set(`${edge}_semi_major_free`, um * spread.a);
    }
  }
  const [dx, dy, turn] = motionSpread(name, counts, pivot);
  rows.set('motion_x', um * dx);
  rows.set('motion_y', um * dy);
  rows.set('motion_turn_deg', um * turn * (180 / Math.PI));
  return rows;
}

/** Middles of equal steps over [−1, 1]. */
function steps(): number[] {
  return Array.from({ length: STEPS }, (_, i) => (2 * (i + 0.5)) / STEPS - 1);
}
