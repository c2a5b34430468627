import { seededRandom } from '../math/random.ts';
import { symmetricEigen } from '../math/symmetric-eigen.ts';
import { cross3, dot3, length3, subtract3, type Vec3 } from '../math/vec3.ts';

/** Points that may be the aerofoil, with their centre and principal axes (longest first, right-handed, rows). */
export interface PointSet {
  points: Float64Array;
  centre: Vec3;
  axes: Vec3[];
}

/** Fewest points worth a start. */
const LEAST_POINTS = 12;
/** Share of the points a plane must hold to be taken for a table or a side of a block. */
const PLANE_SHARE = 0.15;
const PLANE_TRIALS = 200;
const PLANE_SAMPLE = 2000;
const PLANES_MOST = 3;
const PIECES_MOST = 3;
/** Share of the length a half keeps, so that the two overlap a little. */
const HALF = 0.55;

/** Returns a set with its centre and axes; the points keep their order. */
export function pointSet(points: Float64Array): PointSet {
  const count = points.length / 3;
  const centre: Vec3 = [0, 0, 0];
  for (let i = 0; i < points.length; i++) centre[i % 3] += points[i] / count;
  const moments = new Float64Array(9);
  for (let i = 0; i < points.length; i += 3) {
    const d = [points[i] - centre[0], points[i + 1] - centre[1], points[i + 2] - centre[2]];
    for (let a = 0; a < 3; a++) for (let b = 0; b < 3; b++) moments[3 * a + b] += d[a] * d[b];
  }
  const { vectors } = symmetricEigen(moments, 3);
  const long: Vec3 = [vectors[6], vectors[7], vectors[8]];
  const middle: Vec3 = [vectors[3], vectors[4], vectors[5]];
  return { points, centre, axes: [long, middle, cross3(long, middle)] };
}

/**
 * Returns the parts of a scan to try as the aerofoil: all of it, its largest pieces once big planes are taken out, and
 * the two halves of these along their longest axis, so that a root block, a table or a fixture spoils some but not all.
 * @param points evenly spread points in shuffled order (mm)
 * @param size size of the nominal (mm)
 * @param edge spacing of the points (mm)
 */
export function aerofoilCandidates(points: Float64Array, size: number, edge: number): PointSet[] {
  const whole = pointSet(points);
  const sets = [whole];
  const rest = withoutPlanes(points, 0.006 * size);
  const pieces = largestPieces(rest, 2.5 * edge);
  for (const piece of pieces) if (piece.length < points.length) sets.push(pointSet(piece));
  for (const set of sets.slice(0, 2)) for (const half of halves(set)) sets.push(pointSet(half));
  return sets.filter((set) => set.points.length >= 3 * LEAST_POINTS);
}

/** The points off the big planes, each found by random triples (Fischler & Bolles 1981). */
function withoutPlanes(points: Float64Array, slack: number): Float64Array {
  const total = points.length / 3;
  const uniform = seededRandom(7);
  let rest = points;
  for (let round = 0; round < PLANES_MOST; round++) {
    const sample = Math.min(PLANE_SAMPLE, rest.length / 3);
    if (sample < LEAST_POINTS) break;
    let best = { count: 0, normal: [0, 0, 0] as Vec3, offset: 0 };
    for (let trial = 0; trial < PLANE_TRIALS; trial++) {
      const [a, b, c] = [0, 0, 0].map(() => {
        const i = 3 * Math.floor(uniform() * sample);
        return rest.subarray(i, i + 3);
      });
      const cross = cross3(subtract3(b, a), subtract3(c, a));
      const length = length3(cross);
      if (!(length > 0)) continue;
      const normal = cross.map((v) => v / length) as Vec3;
      const offset = dot3(normal, a);
      let count = 0;
      for (let i = 0; i < 3 * sample; i += 3)
        if (Math.abs(normal[0] * rest[i] + normal[1] * rest[i + 1] + normal[2] * rest[i + 2] - offset) < slack) count++;
      if (count > best.count) best = { count, normal, offset };
    }
    if ((best.count / sample) * (rest.length / 3) < PLANE_SHARE * total) break;
    const { normal, offset } = best;
    rest = keepWhere(rest, (p) => Math.abs(dot3(normal, p) - offset) > 1.5 * slack);
  }
  return rest;
}

/** The largest connected pieces: points in touching cubes belong together. */
function largestPieces(points: Float64Array, edge: number): Float64Array[] {
  const count = points.length / 3;
  const cubes = new Map<string, number[]>();
  const cubeOf = new Array<string>(count);
  for (let i = 0; i < count; i++) {
    const key = [0, 1, 2].map((c) => Math.floor(points[3 * i + c] / edge)).join(' ');
    cubeOf[i] = key;
    const list = cubes.get(key);
    if (list) list.push(i);
    else cubes.set(key, [i]);
  }
  const piece = new Int32Array(count).fill(-1);
  const sizes: number[] = [];
  for (let i = 0; i < count; i++) {
    if (piece[i] >= 0) continue;
    const id = sizes.length;
    sizes.push(0);
    const open = [cubeOf[i]];
    const seen = new Set(open);
    while (open.length > 0) {
      const key = open.pop() as string;
      for (const k of cubes.get(key) ?? []) {
        piece[k] = id;
        sizes[id]++;
      }
      const [x, y, z] = key.split(' ').map(Number);
      for (let n = 0; n < 27; n++) {
        const next = `${x + (n % 3) - 1} ${y + (Math.floor(n / 3) % 3) - 1} ${z + Math.floor(n / 9) - 1}`;
        if (cubes.has(next) && !seen.has(next)) {
          seen.add(next);
          open.push(next);
        }
      }
    }
  }
  const order = sizes.map((_, id) => id).sort((a, b) => sizes[b] - sizes[a] || a - b);
  return order
    .slice(0, PIECES_MOST)
    .filter((id) => sizes[id] >= 0.1 * sizes[order[0]])
    .map((id) => keepWhere(points, (_, i) => piece[i] === id));
}

function halves(set: PointSet): Float64Array[] {
  const along = (p: Float64Array) => dot3(set.axes[0], p);
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < set.points.length; i += 3) {
    const s = along(set.points.subarray(i, i + 3));
    low = Math.min(low, s);
    high = Math.max(high, s);
  }
  return [
    keepWhere(set.points, (p) => along(p) < low + HALF * (high - low)),
    keepWhere(set.points, (p) => along(p) > high - HALF * (high - low)),
  ];
}

function keepWhere(points: Float64Array, keep: (p: Float64Array, i: number) => boolean): Float64Array {
  const out = new Float64Array(points.length);
  let kept = 0;
  for (let i = 0; i < points.length / 3; i++) {
    const p = points.subarray(3 * i, 3 * i + 3);
    if (!keep(p, i)) continue;
    out.set(p, kept);
    kept += 3;
  }
  return out.slice(0, kept);
}
