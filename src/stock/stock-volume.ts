import type { NominalSurface } from '../model/surface.ts';
import type { SurfaceCells } from '../relate/surface-cells.ts';
import { emptyCurvature, placeCurvature } from '../spatial/surface-curvature.ts';
import { evaluateSurface, PLACE_SIZE } from '../spatial/surface-evaluate.ts';

/** Integrals of 1, mean and Gaussian curvature over each cell of the map (mm², mm, 1), row-major; convex is positive. */
export interface CellIntegrals {
  area: Float64Array;
  mean: Float64Array;
  gaussian: Float64Array;
}

/** Places and weights of Gauss-Legendre quadrature on 0 … 1, four points. */
const NODES = [0.069431844202974, 0.330009478207572, 0.669990521792428, 0.930568155797026];
const WEIGHTS = [0.173927422568727, 0.326072577431273, 0.326072577431273, 0.173927422568727];
/** Columns that turn by less than this (rad) are taken at their middle. */
const FLAT_TURN = 0.03;

/** Returns the integrals Steiner's formula asks of each cell, by quadrature on the exact surface. */
export function cellIntegrals(surface: NominalSurface, cells: SurfaceCells): CellIntegrals {
  const { rowBorders, columnBorders, heights } = cells;
  const columns = columnBorders.length - 1;
  const result: CellIntegrals = {
    area: new Float64Array(cells.area.length),
    mean: new Float64Array(cells.area.length),
    gaussian: new Float64Array(cells.area.length),
  };
  const place = new Float64Array(PLACE_SIZE);
  const curvature = emptyCurvature();
  for (let c = 0; c < columns; c++) {
    const [from, width] = [columnBorders[c], columnBorders[c + 1] - columnBorders[c]];
    const isFlat = turnOf(surface, from, width, heights[heights.length >> 1], place) < FLAT_TURN;
    const nodes = isFlat ? [0.5] : NODES;
    const weights = isFlat ? [1] : WEIGHTS;
    for (let r = 0; r < heights.length; r++) {
      const m = r * columns + c;
      const size = width * (rowBorders[r + 1] - rowBorders[r]);
      for (let i = 0; i < nodes.length; i++) {
        evaluateSurface(surface, from + nodes[i] * width, heights[r], place);
        placeCurvature(surface, place, curvature);
        const area = weights[i] * size * curvature.density;
        result.area[m] += area;
        result.mean[m] += area * curvature.mean;
        result.gaussian[m] += area * curvature.gaussian;
      }
    }
  }
  return result;
}

/** Turn of the outline across a column (rad). */
function turnOf(surface: NominalSurface, from: number, width: number, height: number, place: Float64Array): number {
  evaluateSurface(surface, from, height, place);
  const [x, y] = [place[3], place[4]];
  evaluateSurface(surface, from + width, height, place);
  return Math.abs(Math.atan2(x * place[4] - y * place[3], x * place[3] + y * place[4]));
}

/** Volume to remove over some cells, what a unit of stock everywhere adds to it, and its random uncertainty. */
export interface StockVolume {
  /** mm³ */
  value: number;
  /** mm³ a mm: the area half way into the stock. */
  rate: number;
  random: number;
}

/**
 * Returns the material over the finished surface within cells, V = Σ (a + H a² + K a³ / 3) dA with H the mean and K the
 * Gaussian curvature (Steiner 1840: volume between parallel surfaces). Where there is no material nothing is removed.
 * @param stock, u of each cell of the map (mm); NaN where not measured
 * @param chosen cells of the map
 */
export function stockVolume(
  integrals: CellIntegrals,
  stock: ArrayLike<number>,
  u: ArrayLike<number>,
  chosen: ArrayLike<number>,
): StockVolume {
  let [value, rate, variance] = [0, 0, 0];
  for (let i = 0; i < chosen.length; i++) {
    const m = chosen[i];
    const a = stock[m];
    if (!(a > 0)) continue;
    value += a * (integrals.area[m] + a * (integrals.mean[m] + (a * integrals.gaussian[m]) / 3));
    const grown = integrals.area[m] + a * (2 * integrals.mean[m] + a * integrals.gaussian[m]);
    rate += grown;
    variance += (grown * u[m]) ** 2;
  }
  return { value, rate, random: Math.sqrt(variance) };
}
