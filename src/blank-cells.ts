import type { KeptBlank } from './kept-blank.ts';
import type { RunContext } from './model/context.ts';
import type { Pose } from './model/pose.ts';
import type { Alignment } from './model/results.ts';
import { leaveOutEndFaces, measuredEnds, roomAlongSpan } from './relate/end-faces.ts';
import { leftOut } from './relate/left-out.ts';
import { relatePoints } from './relate/relate-points.ts';
import { MAP_DEFAULTS, type SurfaceMap, surfaceMap } from './relate/surface-map.ts';
import { type JoinedStockCells, stockCells } from './stock/stock-cells.ts';

/** Stock of a blank on all its points in one placement. */
export interface BlankCells {
  map: SurfaceMap;
  cells: JoinedStockCells;
  leftOut: Alignment['leftOut'];
  /** How far it may move down and up along the span before an end of the finished blade sticks out of it (mm). */
  room: { down: number; up: number };
}

/**
 * Returns the stock of a kept blank in a placement; its end faces are no flanks and are left out. Found once for a pose
 * and kept while the pose is.
 * @param pose measured → nominal
 * @throws `cancelled`
 */
export async function blankCells(kept: KeptBlank, pose: Pose, context: RunContext): Promise<BlankCells> {
  const known = kept.seen.get(pose);
  if (known) return known;
  const { prepared, points, gate, finder, zones } = kept;
  const { surface } = prepared.target;
  const relation = await relatePoints(prepared.target, points, pose, { gate, finder }, context);
  const ends = measuredEnds(surface, relation, points, pose);
  leaveOutEndFaces(relation, ends, surface);
  const map = surfaceMap(surface, relation, { ...MAP_DEFAULTS, cell: prepared.settings.mapCell });
  const found: BlankCells = {
    map,
    cells: stockCells(surface, relation, map, zones.reaches),
    leftOut: leftOut(relation),
    room: roomAlongSpan(ends, surface),
  };
  kept.seen.set(pose, found);
  return found;
}
