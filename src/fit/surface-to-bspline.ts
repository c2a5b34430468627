import { CamberwrightError } from '../error.ts';
import type { BsplineSurface } from '../model/bspline.ts';
import type { NominalSurface } from '../model/surface.ts';
import { bsplineCurveAt, bsplineIsoCurve, CURVE_PLACE_SIZE } from '../spatial/bspline-evaluate.ts';
import { evaluateCell, intervalOf, PLACE_SIZE } from '../spatial/surface-evaluate.ts';
import { loftRows } from './loft-rows.ts';
import { rowKnots, rowPoles } from './row-poles.ts';

export interface ToBsplineOptions {
  /** Largest difference from the nominal surface between its sections (mm). */
  tolerance?: number;
}

const TO_BSPLINE_DEFAULTS: Required<ToBsplineOptions> = { tolerance: 5e-4 };

/** A nominal surface as a B-spline surface, with how far apart the two are. */
export interface BsplineOfSurface {
  /** Bicubic; u as in the nominal surface, v the height (mm), closed at the trailing edge. */
  surface: BsplineSurface;
  /** Heights of the rows it passes through: the sections and what was added between them (mm). */
  heights: Float64Array;
  /** Largest distances between equal (u, height), at the sections and between them (mm). */
  atSections: number;
  between: number;
}

/** Places between two rows at which the difference is measured, as shares of their distance. */
const PROBES = [0.2, 0.5, 0.8];
/** Rounds of halving; each cuts the difference by about 16. */
const MOST_ROUNDS = 8;

/**
 * Returns the B-spline surface in space of a nominal surface: along the outline the very splines of its sections, over
 * the height a complete cubic spline, with z a function of v alone so that curves of constant v are plane. Where turning
 * with height takes it further than `tolerance` from the nominal surface, rows are added halfway.
 * @throws fault/bspline-tolerance when no number of rows brings it near enough
 */
export function surfaceToBspline(nominal: NominalSurface, options: ToBsplineOptions = {}): BsplineOfSurface {
  const { tolerance } = { ...TO_BSPLINE_DEFAULTS, ...options };
  let heights = nominal.heights.slice();
  for (let round = 0; ; round++) {
    const surface = throughRows(nominal, heights);
    const worst = Float64Array.from({ length: heights.length - 1 }, (_, i) =>
      Math.max(
        ...PROBES.map((share) => rowDifference(nominal, surface, heights[i] + share * (heights[i + 1] - heights[i]))),
      ),
    );
    const between = worst.reduce((most, value) => Math.max(most, value), 0);
    if (between <= tolerance) {
      const atSections = nominal.heights.reduce((most, z) => Math.max(most, rowDifference(nominal, surface, z)), 0);
      return { surface, heights, atSections, between };
    }
    if (round === MOST_ROUNDS) {
      throw new CamberwrightError(
        'fault/bspline-tolerance',
        `The B-spline surface stays ${between} mm from the blade surface; ${tolerance} mm were asked for.`,
        { remedy: 'Allow a larger difference, and report the surface.' },
      );
    }
    heights = Float64Array.from(
      Array.from(heights).flatMap((z, i) => (worst[i] > tolerance ? [z, (z + heights[i + 1]) / 2] : [z])),
    );
  }
}

function throughRows(nominal: NominalSurface, heights: Float64Array): BsplineSurface {
  const along = rowKnots(nominal.columns);
  const rowOf = (z: number) => intervalOf(nominal.heights, z);
  const [low, high] = [heights[0], heights[heights.length - 1]];
  const { knots, rows } = loftRows(
    heights,
    Array.from(heights, (z) => rowPoles(nominal, along, rowOf(z), z, 0)),
    rowPoles(nominal, along, rowOf(low), low, 1),
    rowPoles(nominal, along, rowOf(high), high, 1),
  );
  const countU = along.cell.length;
  const poles = new Float64Array(3 * countU * rows.length);
  rows.forEach((row, j) => {
    // The poles of the function z(v) = v are the means of three neighbouring knots.
    const z = j === 0 ? low : j === rows.length - 1 ? high : (knots[j + 1] + knots[j + 2] + knots[j + 3]) / 3;
    for (let i = 0; i < countU; i++) {
      poles[3 * (j * countU + i)] = row[2 * i];
      poles[3 * (j * countU + i) + 1] = row[2 * i + 1];
      poles[3 * (j * countU + i) + 2] = z;
    }
  });
  return { degreeU: 3, degreeV: 3, knotsU: along.knots, knotsV: knots, countU, countV: rows.length, poles };
}

/** Largest distance at a height between places of equal u: at the columns and halfway between them (mm). */
function rowDifference(nominal: NominalSurface, surface: BsplineSurface, height: number): number {
  const { columns, heights } = nominal;
  const row = intervalOf(heights, height);
  const curve = bsplineIsoCurve(surface, height);
  const there = new Float64Array(CURVE_PLACE_SIZE);
  const here = new Float64Array(PLACE_SIZE);
  let most = 0;
  for (let c = 0; c + 1 < columns.length; c++) {
    if (columns[c + 1] <= columns[c]) continue;
    for (const share of [0, 0.5]) {
      const u = columns[c] + share * (columns[c + 1] - columns[c]);
      evaluateCell(nominal, c, row, u, height, here);
      bsplineCurveAt(curve, u, there);
      most = Math.max(most, Math.hypot(there[0] - here[0], there[1] - here[1], there[2] - height));
    }
  }
  return most;
}
