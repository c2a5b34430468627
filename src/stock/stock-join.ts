import type { NominalSurface } from '../model/surface.ts';
import type { SurfaceMap } from '../relate/surface-map.ts';
import { alongAt, evaluateSurface, PLACE_SIZE } from '../spatial/surface-evaluate.ts';

/** What a cell must hold to count as supported: enough points or enough area, whichever comes first. */
export interface CellSupport {
  points: number;
  /** mm² */
  area: number;
  /** Most turn of the outline across a cell (degrees), so that the nose of an edge is not averaged flat. */
  turnDeg: number;
}

/**
 * Returns for every cell of the surface map the number of the joined cell it belongs to. Columns are grouped up to the
 * side of a square of the wanted support, narrower where the outline turns; each group is then cut along the span as soon
 * as a cell has its support. What is left at the tip joins the cell below it.
 * @returns also the first cell of each group and the number of cells; within a group cells rise in height
 */
export function joinCells(
  surface: NominalSurface,
  map: SurfaceMap,
  support: CellSupport,
): { ofMapCell: Int32Array; groups: Int32Array } {
  const { area } = map.cells;
  const columns = map.cells.columnBorders.length - 1;
  const rows = map.cells.heights.length;
  const ofMapCell = new Int32Array(area.length);
  const starts = columnGroups(surface, map, supportSide(map, support), (support.turnDeg * Math.PI) / 180);
  const groups = new Int32Array(starts.length);
  let count = 0;
  for (let group = 0; group + 1 < starts.length; group++) {
    const [from, to] = [starts[group], starts[group + 1]];
    const first = count;
    groups[group] = first;
    let [heldArea, heldPoints] = [0, 0];
    for (let r = 0; r < rows; r++) {
      for (let m = r * columns + from; m < r * columns + to; m++) {
        ofMapCell[m] = count;
        heldArea += area[m];
        heldPoints += map.counts[m];
      }
      if (heldPoints < support.points && heldArea < support.area * (1 - 1e-6)) continue;
      count++;
      [heldArea, heldPoints] = [0, 0];
    }
    if (heldArea === 0) continue;
    if (count === first) count++;
    else
      for (let r = rows - 1; r >= 0 && ofMapCell[r * columns + from] === count; r--)
        ofMapCell.fill(count - 1, r * columns + from, r * columns + to);
  }
  groups[starts.length - 1] = count;
  return { ofMapCell, groups };
}

/** Side of a square that has the wanted support at the density of the measured cells (mm). */
function supportSide(map: SurfaceMap, support: CellSupport): number {
  let [points, area] = [0, 0];
  for (let m = 0; m < map.counts.length; m++) {
    if (map.counts[m] === 0) continue;
    points += map.counts[m];
    area += map.cells.area[m];
  }
  return Math.sqrt(points > 0 ? Math.min(support.area, (support.points * area) / points) : support.area);
}

/** First columns of the groups, and the number of columns: each as near to `width` as columns allow, within `turn`. */
function columnGroups(surface: NominalSurface, map: SurfaceMap, width: number, turn: number): number[] {
  const { columnBorders, rowBorders } = map.cells;
  const middle = (rowBorders[0] + rowBorders[rowBorders.length - 1]) / 2;
  const place = new Float64Array(PLACE_SIZE);
  const directionAt = (c: number): number => {
    evaluateSurface(surface, columnBorders[c], middle, place);
    return Math.atan2(place[4], place[3]);
  };
  const starts = [0];
  let [length, turned] = [0, 0];
  let before = directionAt(0);
  for (let c = 0; c + 1 < columnBorders.length; c++) {
    const after = directionAt(c + 1);
    const full = 2 * Math.PI;
    const bend = Math.abs(after - before - full * Math.round((after - before) / full));
    const step = alongAt(surface, columnBorders[c + 1], middle) - alongAt(surface, columnBorders[c], middle);
    before = after;
    if (c > starts[starts.length - 1] && (length + step / 2 > width || turned + bend > turn)) {
      starts.push(c);
      [length, turned] = [0, 0];
    }
    length += step;
    turned += bend;
  }
  starts.push(columnBorders.length - 1);
  return starts;
}
