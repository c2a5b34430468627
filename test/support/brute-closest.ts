/** Slow, plain answers to check the fast ones against: all triangles, another formula, sign by solid angle. */

type Vec = [number, number, number];

const sub = (a: Vec, b: Vec): Vec => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a: Vec, b: Vec): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vec, b: Vec): Vec => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const along = (a: Vec, d: Vec, t: number): Vec => [a[0] + t * d[0], a[1] + t * d[1], a[2] + t * d[2]];

function vertex(positions: Float64Array, i: number): Vec {
  return [positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]];
}

function onSegment(p: Vec, a: Vec, b: Vec): Vec {
  const d = sub(b, a);
  const square = dot(d, d);
  const t = square > 0 ? Math.min(1, Math.max(0, dot(sub(p, a), d) / square)) : 0;
  return along(a, d, t);
}

function onTriangle(p: Vec, a: Vec, b: Vec, c: Vec): Vec {
  const n = cross(sub(b, a), sub(c, a));
  const square = dot(n, n);
  const candidates = [onSegment(p, a, b), onSegment(p, b, c), onSegment(p, c, a)];
  if (square > 0) {
    const q = along(p, n, -dot(sub(p, a), n) / square);
    const inside =
      dot(cross(sub(b, a), sub(q, a)), n) >= 0 &&
      dot(cross(sub(c, b), sub(q, b)), n) >= 0 &&
      dot(cross(sub(a, c), sub(q, c)), n) >= 0;
    if (inside) candidates.push(q);
  }
  return candidates.reduce((best, q) => (dot(sub(p, q), sub(p, q)) < dot(sub(p, best), sub(p, best)) ? q : best));
}

/** Winding number of the mesh around a point by the solid angles of its triangles (van Oosterom & Strackee 1983). */
export function windingNumber(positions: Float64Array, triangles: Uint32Array, p: Vec): number {
  let sum = 0;
  for (let t = 0; t < triangles.length; t += 3) {
    const a = sub(vertex(positions, triangles[t]), p);
    const b = sub(vertex(positions, triangles[t + 1]), p);
    const c = sub(vertex(positions, triangles[t + 2]), p);
    const la = Math.sqrt(dot(a, a));
    const lb = Math.sqrt(dot(b, b));
    const lc = Math.sqrt(dot(c, c));
    const lower = la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb;
    sum += 2 * Math.atan2(dot(a, cross(b, c)), lower);
  }
  return sum / (4 * Math.PI);
}

/** Unsigned distance, foot and triangle by trying every triangle; the first of equals. */
export function bruteClosest(
  positions: Float64Array,
  triangles: Uint32Array,
  p: Vec,
): { distance: number; foot: Vec; triangle: number } {
  let best = { distance: Infinity, foot: [NaN, NaN, NaN] as Vec, triangle: -1 };
  for (let t = 0; t < triangles.length / 3; t++) {
    const [a, b, c] = [0, 1, 2].map((k) => vertex(positions, triangles[3 * t + k]));
    const foot = onTriangle(p, a, b, c);
    const d = sub(p, foot);
    const distance = Math.sqrt(dot(d, d));
    if (distance < best.distance) best = { distance, foot, triangle: t };
  }
  return best;
}
