import { lowerBound } from './lower-bound.ts';
import { planeLength } from './plane-length.ts';

/** Places of an edge in the order of their normals. */
export interface TurningPlaces {
  /** Angle of the outward normal from that at the nose (rad), rising. */
  angle: Float64Array;
  /** Place (mm) and outward unit normal. */
  x: Float64Array;
  y: Float64Array;
  nx: Float64Array;
  ny: Float64Array;
}

/** What a flat takes off an edge. */
export interface ChordCut {
  /** Departure of the cut edge from the reference at each point (mm, negative within the flat, else 0). */
  departure: Float64Array;
  /** First point within the flat, and the one after its last. */
  from: number;
  to: number;
  /** Width of the flat and its depth at the middle of the arc it replaces (mm). */
  width: number;
  sagitta: number;
}

/** Returns the cut by the chord between two normal angles of a reference edge, null where no points lie between. */
export function chordCut(points: TurningPlaces, centre: number, half: number): ChordCut | null {
  const { angle, x, y, nx, ny } = points;
  const from = lowerBound(angle, centre - half);
  const to = lowerBound(angle, centre + half);
  if (to - from < 4 || from === 0 || to >= angle.length) return null;
  const a = placeAt(points, from, centre - half);
  const b = placeAt(points, to, centre + half);
  const width = planeLength(b.x - a.x, b.y - a.y);
  // Outward normal of the chord: a quarter turn from its direction, on the side of the edge.
  const turn = (b.y - a.y) * nx[(from + to) >> 1] - (b.x - a.x) * ny[(from + to) >> 1] > 0 ? 1 : -1;
  const mx = (turn * (b.y - a.y)) / width;
  const my = (-turn * (b.x - a.x)) / width;
  const departure = new Float64Array(angle.length);
  let sagitta = 0;
  for (let i = from; i < to; i++) {
    const above = (x[i] - a.x) * mx + (y[i] - a.y) * my;
    if (above <= 0) continue;
    departure[i] = -above / (nx[i] * mx + ny[i] * my);
    sagitta = Math.max(sagitta, above);
  }
  return { departure, from, to, width, sagitta };
}

/** Place of the reference at a normal angle, between two of its points. */
function placeAt({ angle, x, y }: TurningPlaces, after: number, at: number): { x: number; y: number } {
  const before = after - 1;
  const t = (at - angle[before]) / (angle[after] - angle[before]);
  return { x: x[before] + t * (x[after] - x[before]), y: y[before] + t * (y[after] - y[before]) };
}
