import type { NominalSurface } from '../model/surface.ts';
import type { SurfaceCells } from '../relate/surface-cells.ts';
import { emptyCurvature, placeCurvature } from '../spatial/surface-curvature.ts';
import { evaluateSurface, PLACE_SIZE } from '../spatial/surface-evaluate.ts';

const place = new Float64Array(PLACE_SIZE);
const curvature = emptyCurvature();

/** Integrals of 1, mean and Gaussian curvature over each cell of the map (mm², mm, 1), row-major; convex is positive. */
export interface CellIntegrals {
  area: Float64Array;
  mean: Float64Array;
  gaussian: Float64Array;
}

/** Places of Gauss-Legendre quadrature on 0 … 1, two points of weight one half. */
const NODES = [0.5 - Math.sqrt(3) / 6, 0.5 + Math.sqrt(3) / 6];
/** Most height between levels at which the surface is looked at (mm); between them its integrals are straight. */
const LEVEL_STEP = 2;

/**
 * Returns the integrals Steiner's formula asks of each cell. Along the outline they are taken column by column of the
 * surface, between which its curvature may bend sharply where an edge joins a flank.
 */
export function cellIntegrals(surface: NominalSurface, cells: SurfaceCells): CellIntegrals {
  const { rowBorders, heights, columnBorders } = cells;
  const columns = columnBorders.length - 1;
  const result: CellIntegrals = {
    area: new Float64Array(cells.area.length),
    mean: new Float64Array(cells.area.length),
    gaussian: new Float64Array(cells.area.length),
  };
  const pieces = piecesOf(surface.columns, columnBorders);
  const rows = heights.length;
  const span = heights[rows - 1] - heights[0];
  const levels = rows > 1 ? Math.min(rows, Math.ceil(span / LEVEL_STEP) + 1) : 1;
  const rowAt = (level: number): number => (levels > 1 ? Math.round((level * (rows - 1)) / (levels - 1)) : 0);
  let low = ratesAt(surface, pieces, columns, heights[0]);
  for (let level = 0; level < Math.max(1, levels - 1); level++) {
    const [from, to] = [rowAt(level), rowAt(Math.min(level + 1, levels - 1))];
    const high = to > from ? ratesAt(surface, pieces, columns, heights[to]) : low;
    for (let r = from; r <= to; r++) {
      const part = to > from ? (r - from) / (to - from) : 0;
      const height = rowBorders[r + 1] - rowBorders[r];
      for (let c = 0; c < columns; c++) {
        const m = r * columns + c;
        result.area[m] = height * ((1 - part) * low.area[c] + part * high.area[c]);
        result.mean[m] = height * ((1 - part) * low.mean[c] + part * high.mean[c]);
        result.gaussian[m] = height * ((1 - part) * low.gaussian[c] + part * high.gaussian[c]);
      }
    }
    low = high;
  }
  return result;
}

/** A stretch of `u` inside one cell column and one column of the surface. */
interface Piece {
  column: number;
  from: number;
  width: number;
}

function piecesOf(knots: Float64Array, borders: Float64Array): Piece[] {
  const pieces: Piece[] = [];
  let k = 0;
  for (let column = 0; column + 1 < borders.length; column++) {
    let from = borders[column];
    while (k < knots.length && knots[k] <= from) k++;
    for (; k < knots.length && knots[k] < borders[column + 1]; k++) {
      if (knots[k] > from) pieces.push({ column, from, width: knots[k] - from });
      from = knots[k];
    }
    pieces.push({ column, from, width: borders[column + 1] - from });
  }
  return pieces;
}

/** The integrals along each cell column at a height, a mm of height. */
function ratesAt(surface: NominalSurface, pieces: readonly Piece[], columns: number, height: number): CellIntegrals {
  const rates: CellIntegrals = {
    area: new Float64Array(columns),
    mean: new Float64Array(columns),
    gaussian: new Float64Array(columns),
  };
  for (const { column, from, width } of pieces) {
    for (const node of NODES) {
      evaluateSurface(surface, from + node * width, height, place);
      placeCurvature(surface, place, curvature);
      const area = (width * curvature.density) / 2;
      rates.area[column] += area;
      rates.mean[column] += area * curvature.mean;
      rates.gaussian[column] += area * curvature.gaussian;
    }
  }
  return rates;
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
