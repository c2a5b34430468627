import type { Relation } from '../model/relation.ts';
import type { Fault, Place, Side } from '../model/results.ts';
import type { NominalSurface } from '../model/surface.ts';
import { alongAt, evaluateSurface, PLACE_SIZE, placeNormal } from '../spatial/surface-evaluate.ts';
import type { LocalFault } from './faults-find.ts';
import { cellOf } from './surface-cells.ts';
import type { SurfaceMap } from './surface-map.ts';

/** The surface belongs to an edge while its normal is within 60° of that at the nose. */
const EDGE_COSINE = 0.5;

/** Returns the defects as records of the results: place, depth with uncertainty, extents and a plain sentence. */
export function faultRecords(surface: NominalSurface, faults: readonly LocalFault[]): Fault[] {
  return faults.map(({ kind, u, height, depth, uDepth, width, length, members }): Fault => {
    const place = placeOf(surface, u, height);
    const mm = (value: number) => `${Math.abs(value).toFixed(2)} mm`;
    const size = `${mm(depth)} ${kind === 'bump' ? 'high' : 'deep'}, ${mm(length)} long, ${mm(width)} wide`;
    const message = `${KIND_WORDS[kind]} ${size}, at height ${height.toFixed(1)} mm on the ${WORDS[place.side]}.`;
    return { kind, place, depth, u: uDepth, width, length, points: members.length, message };
  });
}

const KIND_WORDS: Record<Fault['kind'], string> = { nick: 'Nick', bump: 'Bump', flat: 'Flat' };

const WORDS: Record<Side, string> = {
  suction: 'suction side',
  pressure: 'pressure side',
  'leading-edge': 'leading edge',
  'trailing-edge': 'trailing edge',
};

/** Returns the place on the nominal surface at (u, height), told by side or edge. */
export function placeOf(surface: NominalSurface, u: number, height: number): Place {
  const place = new Float64Array(PLACE_SIZE);
  const normal = new Float64Array(6);
  const { columns } = surface;
  const end = columns[columns.length - 1];
  const nearLeading = Math.abs(u) < Math.min(u - columns[0], end - u);
  const nose = nearLeading ? 0 : u < 0 ? columns[0] : end;
  evaluateSurface(surface, nose, height, place);
  placeNormal(surface, place, normal, 3);
  evaluateSurface(surface, u, height, place);
  placeNormal(surface, place, normal);
  const cosine = normal[0] * normal[3] + normal[1] * normal[4] + normal[2] * normal[5];
  const along = alongAt(surface, u, height);
  const flank: Side = along < 0 ? 'suction' : 'pressure';
  const edge: Side = nearLeading ? 'leading-edge' : 'trailing-edge';
  return { height, along, side: cosine > EDGE_COSINE ? edge : flank, point: [place[0], place[1], place[2]] };
}

/** Puts points that came back into use (see `keepFaultPoints`) into the map: its cell means and its list of strays. */
export function restoreInMap(map: SurfaceMap, relation: Relation, kept: ReadonlySet<number>): void {
  const { cells, deviation, u, counts } = map;
  const columns = cells.columnBorders.length - 1;
  for (const i of kept) {
    const row = cellOf(cells.rowBorders, relation.height[i]);
    const column = cellOf(cells.columnBorders, relation.u[i]);
    if (row < 0 || column < 0) continue;
    const k = row * columns + column;
    counts[k]++;
    if (!Number.isFinite(deviation[k])) continue;
    deviation[k] += (relation.deviation[i] - deviation[k]) / counts[k];
    u[k] = map.noise / Math.sqrt(counts[k]);
    map.map.deviation[row][column] = deviation[k];
    map.map.u[row][column] = u[k];
  }
  map.outliers = map.outliers.filter((i) => !kept.has(i));
}
