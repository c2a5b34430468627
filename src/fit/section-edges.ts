import type { Outline, SectionEdges } from '../model/outline.ts';
import { curvatureAt, evaluateOutline, wrapParameter } from './outline-evaluate.ts';
import { outlineFoot } from './outline-foot.ts';
import { outlinePieces } from './outline-pieces.ts';

export interface SectionEdgesOptions {
  /** Which way the leading edge points; absent: −X. */
  leadingEdgeTowards?: '+X' | '-X' | '+Y' | '-Y';
  /** Approximate edge points (mm), such as the nominal's; they decide which end is which. */
  hint?: { leading: readonly [number, number]; trailing: readonly [number, number] };
}

/** Two corners nearer to one another than this share of the section's length are the ends of a flat back. */
const FLAT_SHARE = 0.15;
/** Share of the section's length behind an end over which the direction of the camber line there is taken. */
const END_SHARE = 0.04;
/** The same in nose radii, so that the nose's own circle is left behind, and the most of it, in shares of the length. */
const END_RADII = 2.5;
const END_MOST = 0.12;
/** Offset of the centroid from the chord line, in lengths, below which a section counts as symmetric. */
const SYMMETRIC = 1e-4;
/** Cosine between the normals at which a circle touches both sides of an end; on a corner of a blunt end it is above. */
const ACROSS = -0.5;
const DEEPER = 1.5;
const MOST_ROUNDS = 8;

/**
 * Returns the edge points and sides of a section. The two ends are those of the longest diameter. A sharp or cusped end
 * is its corner; a flat end the middle of the flat; a rounded end the contour point farthest along the direction in
 * which the camber line leaves there, found in turns (EP-EXT along the camber end). The suction side is the convex one:
 * the side of the chord line on which the area's centroid lies. When the centroid is within 1e-4 of the length from that
 * line (a symmetric section) it is the side on the left looking from the leading to the trailing edge, +Y for a leading
 * edge towards −X.
 */
export function findSectionEdges(outline: Outline, options: SectionEdgesOptions = {}): SectionEdges {
  const ends = longestDiameter(outline);
  const points = ends.map((t) => placeAt(outline, t));
  const length = Math.hypot(points[0].x - points[1].x, points[0].y - points[1].y);
  const [first, second] = [0, 1].map((e) => edgePoint(outline, ends[e], ends[1 - e], length));
  const leadingFirst = isLeading(points[0], points[1], options);
  const leading = leadingFirst ? first : second;
  const trailing = leadingFirst ? second : first;
  // Counter-clockwise from the leading edge the outline first passes the side on the right, looking to the trailing edge.
  const offset = centroidOffset(outline, placeAt(outline, leading), placeAt(outline, trailing));
  return { leading, trailing, firstSide: offset < -SYMMETRIC * length ? 'suction' : 'pressure' };
}

interface Place {
  x: number;
  y: number;
}

function placeAt(outline: Outline, t: number): Place {
  const out = new Float64Array(8);
  evaluateOutline(outline, t, out);
  return { x: out[0], y: out[1] };
}

function isLeading(a: Place, b: Place, options: SectionEdgesOptions): boolean {
  const { hint } = options;
  if (hint) {
    const straight = distance(a, hint.leading) + distance(b, hint.trailing);
    return straight <= distance(b, hint.leading) + distance(a, hint.trailing);
  }
  const towards = options.leadingEdgeTowards ?? '-X';
  const axis = towards[1] === 'X' ? a.x - b.x : a.y - b.y;
  return towards[0] === '+' ? axis > 0 : axis < 0;
}

function distance(a: Place, b: readonly [number, number]): number {
  return Math.hypot(a.x - b[0], a.y - b[1]);
}

/** Parameters of the two places farthest apart: rotating sweep over samples, good to a sample. */
function longestDiameter(outline: Outline): [number, number] {
  const { breaks } = outlinePieces(outline);
  const perSpan = Math.max(2, Math.ceil(256 / (breaks.length - 1)));
  const at: number[] = [];
  for (let s = 0; s + 1 < breaks.length; s++) {
    for (let j = 0; j < perSpan; j++) at.push(breaks[s] + (j / perSpan) * (breaks[s + 1] - breaks[s]));
  }
  const places = at.map((t) => placeAt(outline, t));
  const hull = convexHull(places);
  let best: [number, number] = [0, 0];
  let most = -1;
  let j = 1;
  const gap = (a: number, b: number) => (places[a].x - places[b].x) ** 2 + (places[a].y - places[b].y) ** 2;
  const size = hull.length;
  for (let i = 0; i < size; i++) {
    const p = places[hull[i]];
    const q = places[hull[(i + 1) % size]];
    const height = (k: number) => (q.x - p.x) * (places[k].y - p.y) - (q.y - p.y) * (places[k].x - p.x);
    for (let guard = 0; guard < size && height(hull[(j + 1) % size]) > height(hull[j]); guard++) j = (j + 1) % size;
    for (const a of [hull[i], hull[(i + 1) % size]]) {
      for (const b of [hull[j], hull[(j + 1) % size]]) {
        if (gap(a, b) <= most) continue;
        most = gap(a, b);
        best = [at[a], at[b]];
      }
    }
  }
  return best;
}

/** Indices of the convex hull, counter-clockwise; Andrew's monotone chain. */
function convexHull(places: readonly Place[]): number[] {
  const order = [...places.keys()].sort((a, b) => places[a].x - places[b].x || places[a].y - places[b].y);
  const half = (list: number[]) => {
    const chain: number[] = [];
    for (const k of list) {
      const p = places[k];
      while (chain.length > 1) {
        const a = places[chain[chain.length - 2]];
        const b = places[chain[chain.length - 1]];
        if ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x) > 0) break;
        chain.pop();
      }
      chain.push(k);
    }
    chain.pop();
    return chain;
  };
  return [...half(order), ...half(order.reverse())];
}

/** The edge point near the end `t`; `other` is the far end. */
function edgePoint(outline: Outline, t: number, other: number, length: number): number {
  const end = placeAt(outline, t);
  const near = [...outline.corners].filter((corner) => {
    const p = placeAt(outline, corner);
    return Math.hypot(p.x - end.x, p.y - end.y) < FLAT_SHARE * length;
  });
  if (near.length === 1) return near[0];
  if (near.length >= 2) return flatMiddle(outline, near, end);
  const far = placeAt(outline, other);
  let nose = t;
  let dx = end.x - far.x;
  let dy = end.y - far.y;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const next = extremal(outline, nose, dx, dy);
    const moved = Math.abs(next - nose);
    nose = next;
    const radius = 1 / Math.max(Math.abs(curvatureAt(outline, nose)), 1e-12);
    const most = END_MOST * length;
    const least = Math.min(most, Math.max(END_SHARE * length, END_RADII * radius));
    const camber = camberDirection(outline, nose, behindCorners(outline, nose, least, most), radius);
    dx = camber.x;
    dy = camber.y;
    if (round > 0 && moved < 1e-12 * outline.period) break;
  }
  return wrapParameter(outline, nose);
}

/** Middle, by arc length, of the flat between two corners: the pair whose stretch is shortest. */
function flatMiddle(outline: Outline, corners: readonly number[], end: Place): number {
  let best = { from: corners[0], width: outline.period };
  corners.forEach((from, c) => {
    const to = corners[(c + 1) % corners.length];
    const width = (((to - from) % outline.period) + outline.period) % outline.period;
    const middle = placeAt(outline, from + 0.5 * width);
    const bonus = Math.hypot(middle.x - end.x, middle.y - end.y) < width;
    if (width > 0 && width < best.width && bonus) best = { from, width };
  });
  return wrapParameter(outline, best.from + 0.5 * best.width);
}

/** Place near `start` where the outward normal is along (dx, dy): bisection on the normal's turn within the edge. */
function extremal(outline: Outline, start: number, dx: number, dy: number): number {
  const out = new Float64Array(8);
  const off = (t: number) => {
    evaluateOutline(outline, t, out);
    return out[2] * dx + out[3] * dy;
  };
  let step = 1e-3 * outline.period;
  let low = start;
  let high = start;
  for (let guard = 0; guard < 60 && off(low) <= 0; guard++) low -= step *= 1.2;
  step = 1e-3 * outline.period;
  for (let guard = 0; guard < 60 && off(high) > 0; guard++) high += step *= 1.2;
  for (let round = 0; round < 80 && high - low > 1e-14 * outline.period; round++) {
    const middle = 0.5 * (low + high);
    if (off(middle) > 0) low = middle;
    else high = middle;
  }
  return 0.5 * (low + high);
}

/** Depth from the least on, up to a most, from which inscribed circles touch both sides instead of a side and a blunt end. */
function behindCorners(outline: Outline, nose: number, least: number, most: number): number {
  let back = least;
  while (back < most && inscribedCircle(outline, nose, back).cosine > ACROSS) back = Math.min(most, DEEPER * back);
  return back;
}

/**
 * Direction in which the camber line leaves at an edge: centres of three inscribed circles behind the nose, the turning of
 * the line through them, carried on to the centre of the end circle and from there straight.
 */
function camberDirection(outline: Outline, nose: number, back: number, radius: number): Place {
  const tip = placeAt(outline, nose);
  const [a, b, c] = [1, 2, 3].map((depth) => inscribedCircle(outline, nose, depth * back));
  const ab = Math.hypot(a.x - b.x, a.y - b.y);
  const bc = Math.hypot(b.x - c.x, b.y - c.y);
  if (Math.min(ab, bc) < 1e-3 * back) return normalAt(outline, nose);
  const turn = Math.atan2(
    (b.x - c.x) * (a.y - b.y) - (b.y - c.y) * (a.x - b.x),
    (b.x - c.x) * (a.x - b.x) + (b.y - c.y) * (a.y - b.y),
  );
  const left = Math.max(0, Math.hypot(a.x - tip.x, a.y - tip.y) - radius);
  const angle = Math.atan2(a.y - b.y, a.x - b.x) + (turn * (ab + 2 * left)) / (ab + bc);
  return { x: Math.cos(angle), y: Math.sin(angle) };
}

/** Signed distance of the area's centroid from the line a → b; positive on the left. Polygon of places two a span. */
function centroidOffset(outline: Outline, a: Place, b: Place): number {
  const { breaks } = outlinePieces(outline);
  const size = 2 * (breaks.length - 1);
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  const ux = (b.x - a.x) / length;
  const uy = (b.y - a.y) / length;
  const at = (i: number) => {
    const s = (i % size) >> 1;
    const p = placeAt(outline, breaks[s] + (i & 1) * 0.5 * (breaks[s + 1] - breaks[s]));
    return { x: (p.x - a.x) * ux + (p.y - a.y) * uy, y: (p.y - a.y) * ux - (p.x - a.x) * uy };
  };
  let area = 0;
  let moment = 0;
  let p = at(0);
  for (let i = 1; i <= size; i++) {
    const q = at(i);
    const cross = p.x * q.y - q.x * p.y;
    area += cross / 2;
    moment += (cross * (p.y + q.y)) / 6;
    p = q;
  }
  return moment / area;
}

function normalAt(outline: Outline, t: number): Place {
  const out = new Float64Array(8);
  evaluateOutline(outline, t, out);
  const speed = Math.hypot(out[2], out[3]);
  return { x: out[3] / speed, y: -out[2] / speed };
}

/**
 * Centre of the inscribed circle that touches `depth` before the nose, and the cosine between the normals where it touches:
 * shrinking ball (Ma, Bae & Choi, Vis. Comput. 28).
 */
function inscribedCircle(outline: Outline, nose: number, depth: number): Place & { cosine: number } {
  const p = placeAt(outline, nose - depth);
  const n = normalAt(outline, nose - depth);
  let q = placeAt(outline, nose + depth);
  let radius = ballRadius(p, n, q);
  for (let round = 0; round < 50; round++) {
    const foot = outlineFoot(outline, p.x - radius * n.x, p.y - radius * n.y);
    if (radius - Math.abs(foot.distance) <= 1e-10 * outline.period) break;
    const next = ballRadius(p, n, foot);
    if (!(next < radius)) break;
    radius = next;
    q = foot;
  }
  const [x, y] = [p.x - radius * n.x, p.y - radius * n.y];
  return { x, y, cosine: ((q.x - x) * n.x + (q.y - y) * n.y) / radius };
}

function ballRadius(p: Place, n: Place, q: Place): number {
  const dx = p.x - q.x;
  const dy = p.y - q.y;
  return (dx * dx + dy * dy) / Math.max(1e-300, 2 * (n.x * dx + n.y * dy));
}
