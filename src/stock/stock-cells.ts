import type { ZoneReach } from '../judge/map-places.ts';
import { POINT_USED, type Relation } from '../model/relation.ts';
import type { StockCells } from '../model/stock-cells.ts';
import type { NominalSurface } from '../model/surface.ts';
import { cellOf } from '../relate/surface-cells.ts';
import type { SurfaceMap } from '../relate/surface-map.ts';
import { alongAt, evaluateSurface, PLACE_SIZE, placeNormal } from '../spatial/surface-evaluate.ts';
import { type PlaceSpread, straightenCells } from './stock-bend.ts';
import { type CellSupport, joinCells } from './stock-join.ts';
import { sideAt, zoneOfSide } from './stock-zones.ts';

/** How large stock cells are and when one counts as measured. */
export interface StockCellOptions extends CellSupport {
  /** Share of a cell's area that must be measured for it to count as measured. */
  share: number;
}

/** Cells of at least 100 points or 1 mm², half of each measured, no more than 30° of an edge in one. */
export const STOCK_CELL_DEFAULTS: StockCellOptions = { points: 100, area: 1, turnDeg: 30, share: 0.5 };

/** Stock cells with the cells of the surface map they are made of. */
export interface JoinedStockCells extends StockCells {
  /** Stock cell of every cell of the map, row-major. */
  ofMapCell: Int32Array;
}

/**
 * Returns the stock of a blank on cells large enough to calm its noise: cells of the surface map joined until they hold
 * enough points or area, along the span at the edges. The stock is the mean of a cell's points less what the bend of the
 * field adds to a mean, at their mean place or where the stock is least or most in the cell; its uncertainty is
 * noise / √n. Points off the finished span, strays and what lies beyond the gate enter nowhere. A
 * cell less than half measured is not measured; its place is its middle.
 * @param relation of the blank's points to the finished surface, which made `map`
 * @param reaches of the zones, from `stockZones`; the first that holds a cell's place takes it
 */
export function stockCells(
  surface: NominalSurface,
  relation: Relation,
  map: SurfaceMap,
  reaches: readonly ZoneReach[],
  options: StockCellOptions = STOCK_CELL_DEFAULTS,
): JoinedStockCells {
  const { ofMapCell, groups } = joinCells(surface, map, options);
  const count = groups[groups.length - 1];
  const cells: JoinedStockCells = {
    count,
    u: new Float64Array(count),
    along: new Float64Array(count),
    height: new Float64Array(count),
    point: new Float64Array(3 * count),
    normal: new Float64Array(3 * count),
    stock: new Float64Array(count),
    uStock: new Float64Array(count),
    area: new Float64Array(count),
    points: new Uint32Array(count),
    zone: new Int16Array(count),
    ofMapCell,
  };
  const spread = sumPoints(relation, map, cells);
  averageCells(map, placeMiddles(map, cells), options.share, cells);
  straightenCells(cells, groups, spread, surface.columns[surface.columns.length - 1] - surface.columns[0]);
  placeCells(surface, reaches, cells);
  return cells;
}

/** Sums stock and place of the points of each cell, and returns how far their places spread. */
function sumPoints(relation: Relation, map: SurfaceMap, cells: JoinedStockCells): PlaceSpread {
  const { rowBorders, columnBorders } = map.cells;
  const columns = columnBorders.length - 1;
  const spread = { u: new Float64Array(cells.count), height: new Float64Array(cells.count) };
  for (let i = 0; i < relation.count; i++) {
    if (relation.flag[i] !== POINT_USED) continue;
    const row = cellOf(rowBorders, relation.height[i]);
    const column = cellOf(columnBorders, relation.u[i]);
    if (row < 0 || column < 0) continue;
    const k = cells.ofMapCell[row * columns + column];
    cells.points[k]++;
    cells.stock[k] += relation.deviation[i];
    cells.u[k] += relation.u[i];
    cells.height[k] += relation.height[i];
    spread.u[k] += relation.u[i] ** 2;
    spread.height[k] += relation.height[i] ** 2;
  }
  for (let k = 0; k < cells.count; k++) {
    const n = cells.points[k];
    spread.u[k] = n > 0 ? spread.u[k] / n - (cells.u[k] / n) ** 2 : 0;
    spread.height[k] = n > 0 ? spread.height[k] / n - (cells.height[k] / n) ** 2 : 0;
  }
  return spread;
}

/** Sums the areas, puts cells without points at their middle, and returns the measured area of each. */
function placeMiddles(map: SurfaceMap, cells: JoinedStockCells): Float64Array {
  const { area, heights, columnBorders } = map.cells;
  const columns = columnBorders.length - 1;
  const seen = new Float64Array(cells.count);
  const u = new Float64Array(cells.count);
  const height = new Float64Array(cells.count);
  for (let m = 0; m < area.length; m++) {
    const k = cells.ofMapCell[m];
    const column = m % columns;
    cells.area[k] += area[m];
    u[k] += (area[m] * (columnBorders[column] + columnBorders[column + 1])) / 2;
    height[k] += area[m] * heights[(m - column) / columns];
    if (Number.isFinite(map.deviation[m])) seen[k] += area[m];
  }
  for (let k = 0; k < cells.count; k++) {
    const n = cells.points[k];
    cells.u[k] = n > 0 ? cells.u[k] / n : u[k] / cells.area[k];
    cells.height[k] = n > 0 ? cells.height[k] / n : height[k] / cells.area[k];
  }
  return seen;
}

/** Makes means of the sums. */
function averageCells(map: SurfaceMap, seen: Float64Array, share: number, cells: JoinedStockCells): void {
  for (let k = 0; k < cells.count; k++) {
    const n = cells.points[k];
    const isMeasured = n > 0 && seen[k] >= share * cells.area[k];
    cells.stock[k] = isMeasured ? cells.stock[k] / n : Number.NaN;
    cells.uStock[k] = isMeasured ? map.noise / Math.sqrt(n) : Number.NaN;
  }
}

/**
 * Writes point, outward normal and length from the leading edge of cell `k`, from its `u` and height.
 * @param place room for a place of the surface
 */
export function placeCell(surface: NominalSurface, cells: StockCells, k: number, place: Float64Array): void {
  evaluateSurface(surface, cells.u[k], cells.height[k], place);
  cells.point.set(place.subarray(0, 3), 3 * k);
  placeNormal(surface, place, cells.normal, 3 * k);
  cells.along[k] = alongAt(surface, cells.u[k], cells.height[k]);
}

/** Finds point, normal and zone of each cell's place. */
function placeCells(surface: NominalSurface, reaches: readonly ZoneReach[], cells: JoinedStockCells): void {
  const place = new Float64Array(PLACE_SIZE);
  for (let k = 0; k < cells.count; k++) {
    placeCell(surface, cells, k, place);
    if (reaches.length === 0) cells.zone[k] = -1;
    else {
      const side = sideAt(surface, reaches[0], cells.along[k], cells.height[k]);
      cells.zone[k] = zoneOfSide(reaches, side, cells.height[k]);
    }
  }
}
