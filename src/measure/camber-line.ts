import type { FittedOutline, SectionEdges } from '../model/outline.ts';
import { type EndCircle, endCircle } from './camber-end.ts';
import { type CamberHeading, camberHeading, type HeadingData } from './camber-heading.ts';
import { sweepCamber } from './camber-sweep.ts';
import type { Contour } from './contour.ts';
import { settleAxes } from './edge-axes.ts';
import { equidistantAt, isSteady } from './equidistant-circle.ts';
import { type Inscribed, inscribedAt } from './inscribed-circle.ts';
import type { PositionNoise } from './position-noise.ts';
import { steadyCircles } from './steady-circles.ts';

/** Line of centres of the inscribed circles (CL-MIC), from the leading to the trailing end circle. */
export interface CamberLine {
  /** Swept circles, without the end circles. */
  circles: Inscribed[];
  /** Length (mm) along the line from the leading end-circle centre to each swept centre. */
  along: Float64Array;
  /** Curvature of the line at each swept centre (1/mm). */
  bend: Float64Array;
  /** Length from end-circle centre to end-circle centre (mm). */
  length: number;
  leading: EndCircle;
  trailing: EndCircle;
  /** Smooth direction of the line, null when it cannot be found. */
  heading: CamberHeading | null;
}

export interface CamberOptions {
  /** Steps of the sweep over the section. */
  steps: number;
  /** Half the contact separation (degrees) below which the sweep of a measured outline stops. */
  leastHalfAngleDeg: number;
}

type Place = { x: number; y: number };

/** Returns the line of centres of a section, or null when no inscribed circle is found. */
export function camberLine(
  contour: Contour,
  edges: SectionEdges,
  options: CamberOptions,
  fitted: FittedOutline | undefined,
  noise: PositionNoise | null,
): CamberLine | null {
  const leastHalfAngle = (options.leastHalfAngleDeg * Math.PI) / 180;
  const sweep = sweepCamber(contour, edges.leading, edges.trailing, {
    steps: options.steps,
    leastHalfAngle,
    noise: noise ? Math.max(noise.at(edges.leading), noise.at(edges.trailing)) : 0,
  });
  if (!sweep || sweep.circles.length < 5) return null;
  let { circles } = sweep;
  const first = circles[0];
  const last = circles[circles.length - 1];
  const rough = camberHeading(headingData(circles, [], noise));
  const outL = rough ? rough.leading + Math.PI : Math.atan2(-first.ty, -first.tx);
  const outT = rough ? rough.trailing : Math.atan2(last.ty, last.tx);
  const leading = endCircle(
    contour,
    first,
    -1,
    sweep.leadingEnd,
    Math.cos(outL),
    Math.sin(outL),
    fitted,
    noise,
    edges.leading,
  );
  const trailing = endCircle(
    contour,
    last,
    1,
    sweep.trailingEnd,
    Math.cos(outT),
    Math.sin(outT),
    fitted,
    noise,
    edges.trailing,
  );
  circles = circles.filter((c) => isBefore(leading, c) && isBefore(c, trailing));
  if (circles.length < 5) return null;
  const steady = noise ? circles : steadyCircles(contour.outline, circles, leading, trailing);
  const data = headingData(steady, [leading, trailing], noise, fitted);
  const length = data.along[data.along.length - 1];
  const { along, bend } = placesAlong(circles, steady, leading, trailing, data);
  const gather = (picked: Inscribed[], ends: [EndCircle, EndCircle]) => headingData(picked, ends, noise, fitted);
  const settled = settleAxes(steady, leading, trailing, gather, noise !== null);
  return { circles, along, bend, length, ...settled };
}

/**
 * Length and bend at every circle from those at the steady ones; the others, at either end, take their share of the
 * way between the end circle and the nearest steady one.
 */
function placesAlong(
  circles: Inscribed[],
  steady: Inscribed[],
  leading: EndCircle,
  trailing: EndCircle,
  data: { along: Float64Array; bend: Float64Array },
): { along: Float64Array; bend: Float64Array } {
  const n = steady.length;
  const before = circles.indexOf(steady[0]);
  const after = circles.indexOf(steady[n - 1]);
  const along = new Float64Array(circles.length);
  const bend = new Float64Array(circles.length);
  circles.forEach((c, i) => {
    const k = Math.max(1, Math.min(n, i - before + 1));
    bend[i] = data.bend[k];
    if (i >= before && i <= after) along[i] = data.along[k];
    else if (i < before) along[i] = share(c, leading, steady[0]) * data.along[1];
    else along[i] = data.along[n] + share(c, steady[n - 1], trailing) * (data.along[n + 1] - data.along[n]);
  });
  return { along, bend };
}

/** Share of the way from one place to another at which a third lies. */
function share(c: Place, from: Place, to: Place): number {
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  return ((c.x - from.x) * dx + (c.y - from.y) * dy) / (dx * dx + dy * dy);
}

/** True when `b` lies ahead of `a`, seen along the tangent of the one that has one. */
function isBefore(a: Inscribed | EndCircle, b: Inscribed | EndCircle): boolean {
  const t = 'tx' in a ? a : 'tx' in b ? b : null;
  return t === null || (b.x - a.x) * t.tx + (b.y - a.y) * t.ty > 0;
}

/** Gathers the centres, with the end circles at either end when given, and how well each is known across the line. */
function headingData(
  circles: Inscribed[],
  ends: EndCircle[],
  noise: PositionNoise | null,
  fitted?: FittedOutline,
): HeadingData & { bend: Float64Array } {
  const all = ends.length === 2 ? [ends[0], ...circles, ends[1]] : circles;
  const n = all.length;
  const bend = bends(all);
  const data = { x: new Float64Array(n), y: new Float64Array(n), along: new Float64Array(n), u: new Float64Array(n) };
  all.forEach((c, i) => {
    data.x[i] = c.x;
    data.y[i] = c.y;
    if (i > 0) data.along[i] = data.along[i - 1] + arcBetween(all[i - 1], c, 0.5 * (bend[i - 1] + bend[i]));
    if ('first' in c) {
      const contacts = noise ? Math.hypot(noise.at(c.first), noise.at(c.second)) : 1;
      data.u[i] = contacts / (2 * Math.sin(c.halfAngle));
    } else data.u[i] = noise ? (c.uAcross ?? noise.at(0.5 * (c.from + c.to))) : 1;
  });
  const gaps = new Float64Array(n).map(
    (_, i) => 0.5 * (data.along[Math.min(n - 1, i + 1)] - data.along[Math.max(0, i - 1)]),
  );
  const mean = data.along[n - 1] / n;
  for (let i = 0; i < n; i++) data.u[i] *= Math.sqrt(mean / gaps[i]);
  const independent = noise ? independentCount(circles, data.along[n - 1], noise) : n;
  return { ...data, bend, independent, noisy: noise !== null, smoothed: fitted?.basis === 'nominal' };
}

/** Number of independent stretches of the line of centres: its length over the typical length that holds one degree of freedom. */
function independentCount(circles: Inscribed[], length: number, noise: PositionNoise): number {
  const windows = circles.map((c) => noise.window(c.first)).sort((a, b) => a - b);
  return Math.max(6, length / windows[windows.length >> 1]);
}

/** Curvature (1/mm) of the line of centres at each centre: circle through it and its neighbours. */
function bends(all: Place[]): Float64Array {
  const n = all.length;
  const bend = new Float64Array(n);
  for (let i = 1; i < n - 1; i++) {
    const [a, b, c] = [all[i - 1], all[i], all[i + 1]];
    const cross = (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);
    const sides =
      Math.hypot(b.x - a.x, b.y - a.y) * Math.hypot(c.x - b.x, c.y - b.y) * Math.hypot(c.x - a.x, c.y - a.y);
    bend[i] = sides > 0 ? (2 * cross) / sides : 0;
  }
  bend[0] = bend[1];
  bend[n - 1] = bend[n - 2];
  return bend;
}

/** Length between neighbouring centres: the straight distance, raised by the bend. */
function arcBetween(a: Place, b: Place, bend: number): number {
  const straight = Math.hypot(b.x - a.x, b.y - a.y);
  const turn = straight * bend;
  return straight * (1 + (turn * turn) / 24);
}

/**
 * Returns the inscribed circle at a length along the line of centres (mm from the leading end-circle centre), or null
 * where the line holds no two-contact circle (inside an end circle's reach).
 */
export function circleAt(contour: Contour, line: CamberLine, at: number): Inscribed | null {
  const { circles, along, bend } = line;
  const n = circles.length;
  if (at < along[0] || at > along[n - 1]) return null;
  let low = 0;
  let high = n - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (along[middle] <= at) low = middle;
    else high = middle;
  }
  const near = at - along[low] < along[high] - at ? low : high;
  const free = Number.POSITIVE_INFINITY;
  const limits = { firstLow: -free, firstHigh: free, secondLow: -free, secondHigh: free };
  let advance = at - along[near];
  let found: Inscribed | null = null;
  for (let turn = 0; turn < 4; turn++) {
    found = inscribedAt(contour.outline, circles[near], advance, limits);
    if (!found || !isSteady(circles[near], found.radius, advance))
      found = equidistantAt(contour, circles[near], advance);
    if (!found) return null;
    const missing = at - along[near] - Math.sign(advance) * arcBetween(circles[near], found, bend[near]);
    advance += missing;
    if (Math.abs(missing) <= 1e-13 * line.length) break;
  }
  return found;
}
