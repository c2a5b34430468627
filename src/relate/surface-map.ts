import { POINT_USED, type Relation } from '../model/relation.ts';
import type { DeviationMap } from '../model/results.ts';
import type { NominalSurface } from '../model/surface.ts';
import { markOutliers } from './mark-outliers.ts';
import { pointNoise } from './point-noise.ts';
import { type CellPoints, sortIntoCells } from './sort-into-cells.ts';
import { type SurfaceCells, surfaceCells } from './surface-cells.ts';

export interface MapOptions {
  /** Cell side on the flanks (mm). */
  cell: number;
  /** Cells grow until this many points are to be expected in each (sparse scans). */
  pointsACell: number;
  /** Cells narrow towards the noses of the edges while this many points are to be expected. */
  pointsAnEdgeCell: number;
}

export const MAP_DEFAULTS: MapOptions = { cell: 0.5, pointsACell: 8, pointsAnEdgeCell: 5 };

/** Cells with fewer points to be expected count as measured with one, others with two. */
const FEW_POINTS = 8;

/** The surface map with everything later steps ask of it. */
export interface SurfaceMap {
  cells: SurfaceCells;
  map: DeviationMap;
  /** Mean deviation and its standard uncertainty a cell, row-major; NaN = not measured (mm). */
  deviation: Float64Array;
  u: Float64Array;
  /** Points a cell. */
  counts: Uint32Array;
  /** Measured share of the area, 0 … 1. */
  coverage: number;
  /** Standard deviation of a point along the normal (mm). */
  noise: number;
  /** Indices of lone strays. */
  outliers: number[];
}

/**
 * Returns the noise-averaged deviation on a grid over the nominal surface, with coverage, noise and strays. A cell's
 * value is the mean of its points (lone strays left out), its uncertainty noise / √n. A cell counts as measured with two
 * points, or with one where fewer than eight are to be expected. Flags strays in `relation`.
 */
export function surfaceMap(surface: NominalSurface, relation: Relation, options: MapOptions): SurfaceMap {
  const { cells, sorted } = cellsForDensity(surface, relation, options);
  const noise = pointNoise(relation, sorted);
  const outliers = markOutliers(relation, cells, sorted, Number.isFinite(noise) ? noise : 0);
  const count = cells.area.length;
  const deviation = new Float64Array(count).fill(NaN);
  const u = new Float64Array(count).fill(NaN);
  const counts = new Uint32Array(count);
  let area = 0;
  let measured = 0;
  const density = typicalDensity(cells, sorted);
  for (let k = 0; k < count; k++) {
    let sum = 0;
    for (let j = sorted.start[k]; j < sorted.start[k + 1]; j++) {
      const i = sorted.points[j];
      if (relation.flag[i] !== POINT_USED) continue;
      sum += relation.deviation[i];
      counts[k]++;
    }
    area += cells.area[k];
    if (counts[k] < (density * cells.area[k] < FEW_POINTS ? 1 : 2)) continue;
    measured += cells.area[k];
    deviation[k] = sum / counts[k];
    u[k] = noise / Math.sqrt(counts[k]);
  }
  return {
    cells,
    map: mapRecord(cells, deviation, u),
    deviation,
    u,
    counts,
    coverage: area > 0 ? measured / area : 0,
    noise: Number.isFinite(noise) ? noise : 0,
    outliers,
  };
}

/** Cells of the wanted size, or larger ones where the scan is too sparse for it. */
function cellsForDensity(
  surface: NominalSurface,
  relation: Relation,
  options: MapOptions,
): { cells: SurfaceCells; sorted: CellPoints } {
  let size = options.cell;
  let cells = surfaceCells(surface, size, size);
  let sorted = sortIntoCells(relation, cells);
  const density = typicalDensity(cells, sorted);
  if (density > 0) {
    size = Math.min(Math.max(size, Math.sqrt(options.pointsACell / density)), 20 * options.cell);
    const leastWidth = Math.min(size, options.pointsAnEdgeCell / (density * size));
    cells = surfaceCells(surface, size, leastWidth);
    sorted = sortIntoCells(relation, cells);
  }
  return { cells, sorted };
}

/** Points a mm² over the cells that hold any. */
function typicalDensity(cells: SurfaceCells, sorted: CellPoints): number {
  let points = 0;
  let area = 0;
  for (let k = 0; k < cells.area.length; k++) {
    const n = sorted.start[k + 1] - sorted.start[k];
    if (n === 0) continue;
    points += n;
    area += cells.area[k];
  }
  return area > 0 ? points / area : 0;
}

function mapRecord(cells: SurfaceCells, deviation: Float64Array, u: Float64Array): DeviationMap {
  const columns = cells.columnBorders.length - 1;
  const rowsOf = (values: Float64Array): (number | null)[][] =>
    Array.from(cells.heights, (_, r) =>
      Array.from(values.subarray(r * columns, (r + 1) * columns), (value) => (Number.isFinite(value) ? value : null)),
    );
  return {
    heights: Array.from(cells.heights),
    along: rowsOf(cells.along) as number[][],
    deviation: rowsOf(deviation),
    u: rowsOf(u),
  };
}
