import { solveSmall } from '../place/solve-small.ts';
import { type EdgeConic, edgeConic } from './edge-conic.ts';
import { distanceInside, type EdgeJunction, type NoseLine } from './edge-curve.ts';

/** Ellipse with its axis on the middle of a wedge, tangent to both flanks and the nose line (mm). */
export interface WedgeEllipse {
  /** Distance of the junctions from the nose line and half thickness there. */
  setback: number;
  halfThickness: number;
  /** Half axes: depth a along the wedge's middle, width b. */
  a: number;
  b: number;
  noseRadius: number;
  /** Curvature at the junctions (1/mm). */
  endCurvature: number;
}

/**
 * Returns the ellipse of a given ratio on a wedge, or null where the flanks cross before the nose line. A circle is ratio 1.
 * Closed form: scaled along its axis by 1 / ratio the ellipse is a circle in a wedge of tangent ratio · tan(half angle).
 * @param ratio depth a over width b
 * @param halfAngle half angle of the wedge (rad), positive where it opens away from the nose
 * @param h0 half thickness of the flanks carried on to the nose line (mm)
 */
export function wedgeEllipse(ratio: number, halfAngle: number, h0: number): WedgeEllipse | null {
  const slope = Math.tan(halfAngle);
  const lean = Math.sqrt(1 + (ratio * slope) ** 2);
  const q = lean - ratio * slope;
  const room = 1 - ratio * q * slope;
  if (!(h0 > 0 && ratio > 0 && room > 0)) return null;
  const setback = (ratio * q * h0) / room;
  const halfThickness = h0 + setback * slope;
  const b = halfThickness * lean;
  const a = ratio * b;
  const sine = (ratio * slope) / lean;
  const endCurvature = (a * b) / (a * a * (1 - sine * sine) + b * b * sine * sine) ** 1.5;
  return { setback, halfThickness, a, b, noseRadius: b / ratio, endCurvature };
}

/** A flank by the distance of its points from the nose line (mm): place, unit tangent towards the edge, curvature. */
export type Flank = (setback: number) => EdgeJunction | null;

/** Where an ellipse lies across: its nose at a given point, or its axis (nose to centre) in a given direction. */
export type NoseHold = { at: { x: number; y: number } } | { axis: { x: number; y: number } };

/** The ellipse found between two flanks. */
export interface FlankEllipse {
  junctions: [EdgeJunction, EdgeJunction];
  conic: EdgeConic;
  /** Largest of what is left of ratio (of its logarithm) and of place (over the half width). */
  rest: number;
}

/** `flanks-cross`: before the nose line; `flanks-not-closing`: parallel or opening towards it. */
export type EllipseRefusal = 'flanks-cross' | 'flanks-not-closing' | 'setback-least' | 'setback-most' | 'not-converged';

/** Where the junctions of an ellipse may lie. */
export interface FlankEllipseOptions {
  /** Least and most set-back of either junction (mm). */
  least: number;
  most: number;
  /** Most steps of Newton's method. */
  steps?: number;
}

const SOLVED = 1e-11;

/**
 * Returns the ellipse of a given ratio between two flanks that touches the nose line, with the set-backs of both
 * junctions solved for, or why there is none. Newton's method in the logarithms of the set-backs; the start is the
 * closed form on the flanks' tangents, which a shear along the nose line brings to a symmetric wedge.
 * @param ratio depth of its centre under the nose line over half its width there
 * @param hold nose on a point of the nose line, or axis along a direction
 */
export function flankEllipse(
  first: Flank,
  second: Flank,
  line: NoseLine,
  ratio: number,
  hold: NoseHold,
  options: FlankEllipseOptions,
): FlankEllipse | EllipseRefusal {
  const start = startSetbacks(first, second, line, ratio, options);
  if (typeof start === 'string') return start;
  let x = start;
  let now = attempt(first, second, line, ratio, hold, x);
  const h = 1e-6;
  for (let step = 0; step < (options.steps ?? 40) && now && now.rest > SOLVED; step++) {
    const jacobian = new Float64Array(4);
    for (let k = 0; k < 2; k++) {
      const up = attempt(first, second, line, ratio, hold, shifted(x, k, h));
      const down = attempt(first, second, line, ratio, hold, shifted(x, k, -h));
      if (!up || !down) return 'not-converged';
      for (let row = 0; row < 2; row++) jacobian[2 * row + k] = (up.missing[row] - down.missing[row]) / (2 * h);
    }
    const move = solveSmall(jacobian, Float64Array.from(now.missing), 2);
    if (!move) return 'not-converged';
    let share = Math.min(1, 0.7 / Math.max(Math.abs(move[0]), Math.abs(move[1])));
    let next: Attempt | null = null;
    let to = x;
    while (share > 1e-4) {
      to = [x[0] - share * move[0], x[1] - share * move[1]];
      next = attempt(first, second, line, ratio, hold, to);
      if (next && next.rest < now.rest) break;
      next = null;
      share /= 2;
    }
    if (!next) break;
    x = to;
    now = next;
  }
  if (!now || now.rest > 1e-8) return 'not-converged';
  const [low, high] = [Math.exp(Math.min(...x)), Math.exp(Math.max(...x))];
  if (high > options.most) return 'setback-most';
  if (low < options.least) return 'setback-least';
  return { junctions: now.junctions, conic: now.conic, rest: now.rest };
}

interface Attempt extends FlankEllipse {
  missing: [number, number];
}

const shifted = (x: [number, number], k: number, by: number): [number, number] =>
  k === 0 ? [x[0] + by, x[1]] : [x[0], x[1] + by];

function attempt(
  first: Flank,
  second: Flank,
  line: NoseLine,
  ratio: number,
  hold: NoseHold,
  logs: [number, number],
): Attempt | null {
  const a = first(Math.exp(logs[0]));
  const b = second(Math.exp(logs[1]));
  if (!a || !b) return null;
  const conic = edgeConic(a, b, line);
  if (typeof conic === 'string' || conic.ratio === null || conic.axis === null) return null;
  const width = conic.noseRadius * conic.ratio;
  const off =
    'at' in hold
      ? ((conic.nose.x - hold.at.x) * -line.inY + (conic.nose.y - hold.at.y) * line.inX) / width
      : (hold.axis.x * conic.axis.y - hold.axis.y * conic.axis.x) / Math.hypot(hold.axis.x, hold.axis.y) / width;
  const missing: [number, number] = [Math.log(conic.ratio / ratio), off];
  return { junctions: [a, b], conic, missing, rest: Math.max(Math.abs(missing[0]), Math.abs(off)) };
}

/** Set-backs of the closed form on tangents taken twice: at the middle of the allowed range, then where it says. */
function startSetbacks(
  first: Flank,
  second: Flank,
  line: NoseLine,
  ratio: number,
  options: FlankEllipseOptions,
): [number, number] | EllipseRefusal {
  let setback = Math.sqrt(Math.max(options.least, 1e-3 * options.most) * options.most);
  for (let pass = 0; pass < 3; pass++) {
    const a = first(setback);
    const b = second(setback);
    if (!a || !b) return 'not-converged';
    const [ya, sa] = carried(a, line);
    const [yb, sb] = carried(b, line);
    const side = (a.x - b.x) * -line.inY + (a.y - b.y) * line.inX > 0 ? 1 : -1;
    if (!(side * (ya - yb) > 0)) return 'flanks-cross';
    if (!(side * (sa - sb) > 0)) return 'flanks-not-closing';
    const found = wedgeEllipse(ratio, Math.atan(0.5 * side * (sa - sb)), 0.5 * side * (ya - yb));
    if (!found) return 'not-converged';
    setback = Math.min(options.most, Math.max(options.least, found.setback));
  }
  return [Math.log(setback), Math.log(setback)];
}

/** Where a flank's tangent meets the nose line (place along it) and its slope: change along the line by depth. */
function carried(at: EdgeJunction, line: NoseLine): [number, number] {
  const depth = at.tangentX * line.inX + at.tangentY * line.inY;
  const slope = (at.tangentX * -line.inY + at.tangentY * line.inX) / depth;
  const place = (at.x - line.x) * -line.inY + (at.y - line.y) * line.inX;
  return [place - slope * distanceInside(line, at.x, at.y), slope];
}
