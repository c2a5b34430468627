import type { Outline } from '../model/outline.ts';
import type { DeviationFit } from './fit-deviation.ts';
import { chordParameters, interpolateOutline } from './interpolate-outline.ts';
import { arcLengthAt, parameterAtLength } from './outline-arc.ts';
import { type CornerSide, evaluateOutline, outlineKnotSpans, wrapParameter } from './outline-evaluate.ts';

/** A nominal moved along its normals by a fitted deviation. */
export interface MovedOutline {
  outline: Outline;
  /** Nominal's parameter at the outline's nodes, rising over one turn, the end included; and the outline's own there. */
  from: Float64Array;
  to: Float64Array;
}

/** Largest turn (rad) between nodes: a cubic spline then keeps the outline to a nanometre. */
const TURN = 0.12;
const MOST_PARTS = 16;
/** Steps shorter than this share of the period are not made. */
const SHORTEST = 1e-6;
/** Deviation beyond this share of the nominal's local radius: feet are not sure to be unique. */
const MOST_OF_RADIUS = 0.5;
/** Distance of a corner from its sides' ends, in deviations there, beyond which they do not meet soundly. */
const FAR = 12;
const NEWTON_ROUNDS = 30;

/**
 * Returns the closed cubic spline through dense places of the moved nominal: at the knots of both and between them as the
 * outline turns. Sides moved apart at a corner are carried on straight, sides moved over one another are cut. Null where
 * the deviation exceeds half the local radius of the nominal, or sides do not meet.
 */
export function movedOutline(nominal: Outline, fit: DeviationFit): MovedOutline | null {
  const { period, corners } = nominal;
  const nodes = nodeParameters(nominal, fit);
  const starts = corners.length > 0 ? [...corners] : [nodes[0]];
  const ends = starts.map((_, c) => starts[c + 1] ?? starts[0] + period);
  const rooms = starts.map((start, c) => Math.min(ends[c] - start, ends.at(c - 1)! - starts.at(c - 1)!));
  const meetings = corners.length > 0 ? starts.map((corner, c) => meeting(nominal, fit, corner, rooms[c])) : null;
  const from: number[] = [];
  const points: number[] = [];
  const kept: number[] = [];
  const place = new Float64Array(4);
  for (let c = 0; c < starts.length; c++) {
    let [low, high] = [starts[c], ends[c]];
    if (meetings) {
      const met = meetings[c];
      const next = meetings[(c + 1) % starts.length];
      if (!met || !next) return null;
      kept.push(from.length);
      from.push(starts[c]);
      points.push(met.x, met.y);
      low = Math.max(low, starts[c] + met.after);
      high = Math.min(high, ends[c] + next.before);
    }
    const inner = stretchNodes(nominal, fit, nodes, low, high, meetings !== null);
    if (!inner) return null;
    for (const t of inner) {
      movedPlace(nominal, fit, t, 'after', place);
      from.push(t);
      points.push(place[0], place[1]);
    }
  }
  const list = Float64Array.from(points);
  const { at, period: turn } = chordParameters(list);
  return {
    outline: interpolateOutline(list, { corners: kept }),
    from: Float64Array.from([...from, from[0] + period]),
    to: Float64Array.from([...at, turn]),
  };
}

/** Returns the outline's parameter near a nominal's parameter, linear between nodes. */
export function movedParameter({ from, to }: MovedOutline, period: number, t: number): number {
  const wrapped = t - period * Math.floor((t - from[0]) / period);
  let low = 0;
  let high = from.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (from[middle] <= wrapped) low = middle;
    else high = middle;
  }
  return to[low] + ((wrapped - from[low]) / (from[high] - from[low])) * (to[high] - to[low]);
}

/**
 * Writes place and derivative by the nominal's parameter of the moved nominal at `t`; returns deviation × curvature.
 * @param side which side of a corner is meant
 */
function movedPlace(nominal: Outline, fit: DeviationFit, t: number, side: CornerSide, out: Float64Array): number {
  const wrapped = wrapParameter(nominal, t);
  const turnOver = side === 'before' && wrapped === nominal.knots[0];
  evaluateOutline(fit.spline, turnOver ? 0 : arcLengthAt(fit.arc, wrapped), value, side);
  evaluateOutline(nominal, t, whole, side);
  const speed = Math.hypot(whole[2], whole[3]);
  const tx = whole[2] / speed;
  const ty = whole[3] / speed;
  const bend = (whole[2] * whole[5] - whole[3] * whole[4]) / speed ** 3;
  const d = value[0];
  out[0] = whole[0] + d * ty;
  out[1] = whole[1] - d * tx;
  out[2] = speed * ((1 + d * bend) * tx + value[2] * ty);
  out[3] = speed * ((1 + d * bend) * ty - value[2] * tx);
  return d * bend;
}

const value = new Float64Array(8);
const whole = new Float64Array(8);

/** Distinct knots of the nominal and of the deviation in the nominal's parameter, rising over one turn. */
function nodeParameters(nominal: Outline, { arc, spline }: DeviationFit): number[] {
  const perimeter = spline.period;
  const own = Array.from(spline.knots, (s) => parameterAtLength(arc, s - perimeter * Math.floor(s / perimeter)));
  const all = [...outlineKnotSpans(nominal), ...own].sort((a, b) => a - b);
  const least = SHORTEST * nominal.period;
  const last = nominal.knots[0] + nominal.period - least;
  const kept: number[] = [];
  for (const t of all) if (t < last && (kept.length === 0 || t - kept[kept.length - 1] > least)) kept.push(t);
  return kept;
}

/** Nodes of one stretch, ends of a cornered one left out; null where the deviation is too large for the radius. */
function stretchNodes(
  nominal: Outline,
  fit: DeviationFit,
  nodes: readonly number[],
  low: number,
  high: number,
  cornered: boolean,
): number[] | null {
  const { period } = nominal;
  const least = SHORTEST * period;
  const within = [...nodes, ...nodes.map((t) => t + period)].filter((t) => t > low + least && t < high - least);
  const breaks = [low, ...within, high];
  const places = breaks.map((t, i) => {
    const out = new Float64Array(4);
    const share = movedPlace(nominal, fit, t, i === breaks.length - 1 ? 'before' : 'after', out);
    return Math.abs(share) > MOST_OF_RADIUS ? null : out;
  });
  const found: number[] = [];
  for (let i = 0; i + 1 < breaks.length; i++) {
    const [a, b] = [places[i], places[i + 1]];
    if (!a || !b) return null;
    const turn = Math.abs(Math.atan2(a[2] * b[3] - a[3] * b[2], a[2] * b[2] + a[3] * b[3]));
    const parts = Math.min(MOST_PARTS, Math.max(1, Math.ceil(turn / TURN)));
    for (let j = cornered && i === 0 ? 1 : 0; j < parts; j++)
      found.push(breaks[i] + ((breaks[i + 1] - breaks[i]) * j) / parts);
  }
  return found;
}

/** Where the two sides of a corner meet, and how far before and after it (in the nominal's parameter, + after). */
interface Meeting {
  x: number;
  y: number;
  before: number;
  after: number;
}

/** Newton on both sides, carried on straight beyond the corner; null where they do not meet near it. */
function meeting(nominal: Outline, fit: DeviationFit, corner: number, room: number): Meeting | null {
  const [a, b] = [new Float64Array(4), new Float64Array(4)];
  let [before, after] = [0, 0];
  let reach = 0;
  for (let round = 0; round < NEWTON_ROUNDS; round++) {
    carriedPlace(nominal, fit, corner, before, 'before', a);
    carriedPlace(nominal, fit, corner, after, 'after', b);
    const x = b[0] - a[0];
    const y = b[1] - a[1];
    if (round === 0) {
      evaluateOutline(nominal, corner, whole);
      reach =
        FAR * Math.max(Math.hypot(a[0] - whole[0], a[1] - whole[1]), Math.hypot(b[0] - whole[0], b[1] - whole[1]));
      reach = Math.min(reach, 0.5 * room);
    }
    if (Math.hypot(x, y) < 1e-12 * nominal.period) return { x: a[0], y: a[1], before, after };
    const cross = a[2] * b[3] - a[3] * b[2];
    before += (x * b[3] - y * b[2]) / cross;
    after += (x * a[3] - y * a[2]) / cross;
    if (!(Math.abs(before) <= reach && Math.abs(after) <= reach)) return null;
  }
  return null;
}

/** Place and derivative of one side of a corner, `h` after it; beyond its end straight on. */
function carriedPlace(
  nominal: Outline,
  fit: DeviationFit,
  corner: number,
  h: number,
  side: CornerSide,
  out: Float64Array,
): void {
  const beyond = side === 'before' ? Math.max(0, h) : Math.min(0, h);
  movedPlace(nominal, fit, corner + h - beyond, beyond === h ? side : 'after', out);
  out[0] += beyond * out[2];
  out[1] += beyond * out[3];
}
