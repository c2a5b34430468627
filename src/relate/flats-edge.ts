import type { TurningPlaces } from '../math/chord-cut.ts';
import { lowerBound } from '../math/lower-bound.ts';
import { POINT_OUTLIER, POINT_USED, type Relation } from '../model/relation.ts';
import type { NominalSurface } from '../model/surface.ts';
import { evaluateSurface, PLACE_SIZE } from '../spatial/surface-evaluate.ts';

/** An edge of the nominal at one height. */
export interface EdgeStation {
  height: number;
  /** Places at the angles of the table; position along the outline from the nose (as `u`). */
  places: TurningPlaces;
  u: Float64Array;
  /** Radius of curvature at the nose (mm). */
  radius: number;
}

/** A round edge along the span and the points on it. */
export interface EdgePatch {
  /** `u` of the nose. */
  nose: number;
  /** Angles of the normal from that at the nose (rad), evenly rising. */
  table: Float64Array;
  /** At evenly rising heights. */
  stations: EdgeStation[];
  /** Points by rising height: height, angle of the normal at the foot, deviation, and index in the relation. */
  height: Float64Array;
  angle: Float64Array;
  deviation: Float64Array;
  point: Uint32Array;
}

const DEG = Math.PI / 180;
/** Step of the table and normal directions it may reach; a round edge turns so far either side at least. */
const STEP = 2 * DEG;
const MOST_STEPS = 40;
const LEAST_STEPS = 25;
/** The arc of an edge ends this many of its nose radii away. */
const MOST_RADII = 3;
/** Turn a step of the walk, beyond which there is a corner. */
const WALK = 1.5 * DEG;
const CORNER = 8 * DEG;
const PITCH = 4;

/**
 * Returns an edge with its points, null where the edge is not round all along the span.
 * @param kept false for points that take no part
 */
export function edgePatch(
  surface: NominalSurface,
  relation: Relation,
  which: 'leading' | 'trailing',
  kept: (i: number) => boolean,
): EdgePatch | null {
  const { columns, heights } = surface;
  const nose = which === 'leading' ? 0 : columns[0];
  const period = columns[columns.length - 1] - columns[0];
  const low = heights[0];
  const span = heights[heights.length - 1] - low;
  const gaps = Math.max(1, Math.ceil(span / PITCH));
  const walks = Array.from({ length: gaps + 1 }, (_, s) => walkBoth(surface, nose, low + (span * s) / gaps));
  const before = Math.min(MOST_STEPS, ...walks.map(({ places }) => Math.floor(-places.angle[0] / STEP)));
  const after = Math.min(
    MOST_STEPS,
    ...walks.map(({ places: { angle } }) => Math.floor(angle[angle.length - 1] / STEP)),
  );
  if (Math.min(before, after) < LEAST_STEPS) return null;
  const table = Float64Array.from({ length: before + after + 1 }, (_, k) => (k - before) * STEP);
  const stations = walks.map((walk) => stationAt(walk, table));
  const last = table.length - 1;
  const from = Math.min(...stations.map(({ u }) => u[0]));
  const to = Math.max(...stations.map(({ u }) => u[last]));
  const found: { i: number; angle: number }[] = [];
  const row = new Float64Array(table.length);
  for (let i = 0; i < relation.count; i++) {
    let du = relation.u[i] - nose;
    du -= period * Math.round(du / period);
    if (du < from || du > to) continue;
    if ((relation.flag[i] !== POINT_USED && relation.flag[i] !== POINT_OUTLIER) || !kept(i)) continue;
    const at = Math.min(Math.max(((relation.height[i] - low) / span) * gaps, 0), gaps - 1e-9);
    const s = Math.floor(at);
    for (let k = 0; k <= last; k++) row[k] = stations[s].u[k] + (at - s) * (stations[s + 1].u[k] - stations[s].u[k]);
    if (du < row[0] || du > row[last]) continue;
    const k = Math.min(last, Math.max(1, lowerBound(row, du)));
    found.push({ i, angle: table[k - 1] + (STEP * (du - row[k - 1])) / (row[k] - row[k - 1]) });
  }
  found.sort((a, b) => relation.height[a.i] - relation.height[b.i] || a.i - b.i);
  return {
    nose,
    table,
    stations,
    height: Float64Array.from(found, ({ i }) => relation.height[i]),
    angle: Float64Array.from(found, ({ angle }) => angle),
    deviation: Float64Array.from(found, ({ i }) => relation.deviation[i]),
    point: Uint32Array.from(found, ({ i }) => i),
  };
}

/** The station of a patch nearest to a height. */
export function stationNear({ stations }: EdgePatch, height: number): EdgeStation {
  const gaps = stations.length - 1;
  const low = stations[0].height;
  const at = Math.round((gaps * (height - low)) / (stations[gaps].height - low));
  return stations[Math.min(gaps, Math.max(0, at))];
}

/** Places of an edge walked from its nose both ways, by rising angle. */
interface Walk {
  height: number;
  radius: number;
  u: Float64Array;
  places: TurningPlaces;
}

function walkBoth(surface: NominalSurface, nose: number, height: number): Walk {
  const { columns, orientation } = surface;
  const period = columns[columns.length - 1] - columns[0];
  const place = new Float64Array(PLACE_SIZE);
  const at = (du: number) => {
    const u = nose + du;
    evaluateSurface(surface, u - period * Math.floor((u - columns[0]) / period), height, place);
    const speed = Math.hypot(place[3], place[4]);
    const rate = (orientation * (place[3] * place[10] - place[4] * place[9])) / (speed * speed);
    return {
      du,
      x: place[0],
      y: place[1],
      nx: (orientation * place[4]) / speed,
      ny: (-orientation * place[3]) / speed,
      speed,
      rate,
    };
  };
  type Step = ReturnType<typeof at> & { angle: number };
  const first: Step = { ...at(0), angle: 0 };
  const radius = first.speed / Math.max(first.rate, 1e-9);
  const walk = (way: 1 | -1): Step[] => {
    const steps: Step[] = [];
    let from = first;
    while (Math.abs(from.angle) < (MOST_STEPS + 1) * STEP) {
      const stride = Math.min(WALK / Math.max(from.rate, 1e-9), (0.1 * radius) / from.speed);
      const next = at(from.du + way * stride);
      const turn =
        orientation * Math.atan2(from.nx * next.ny - from.ny * next.nx, from.nx * next.nx + from.ny * next.ny);
      if (!(way * turn > 0) || Math.abs(turn) > CORNER || Math.abs(next.du) * next.speed > MOST_RADII * radius) break;
      from = { ...next, angle: from.angle + turn };
      steps.push(from);
    }
    return steps;
  };
  const all = [...walk(-1).reverse(), first, ...walk(1)];
  const column = (key: 'angle' | 'x' | 'y' | 'nx' | 'ny' | 'du') => Float64Array.from(all, (step) => step[key]);
  const places = { angle: column('angle'), x: column('x'), y: column('y'), nx: column('nx'), ny: column('ny') };
  return { height, radius, u: column('du'), places };
}

function stationAt({ height, radius, u, places }: Walk, table: Float64Array): EdgeStation {
  const { angle } = places;
  const at = (values: Float64Array) =>
    table.map((a) => {
      const k = Math.min(angle.length - 1, Math.max(1, lowerBound(angle, a)));
      return values[k - 1] + ((a - angle[k - 1]) / (angle[k] - angle[k - 1])) * (values[k] - values[k - 1]);
    });
  const { x, y, nx, ny } = places;
  return { height, radius, u: at(u), places: { angle: table, x: at(x), y: at(y), nx: at(nx), ny: at(ny) } };
}
