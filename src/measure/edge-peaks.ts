import { contourAt, contourPoint } from './contour.ts';
import type { Cut } from './cut-thickness.ts';
import { turnAlong } from './edge-bend.ts';
import { cornersBetween } from './edge-radius.ts';
import type { PositionNoise } from './position-noise.ts';
import type { EdgeContext, SectionContext } from './section-context.ts';

/** A place of an edge that bends more than what lies to either side. */
export interface CornerPeak {
  x: number;
  y: number;
  /** Its upper half: parameters, equal where the outline has a sharp corner. */
  from: number;
  to: number;
  /** Direction of its normal, degrees from +X, growing along the outline. */
  angleDeg: number;
  /** Its standard uncertainty, null without noise. */
  uDeg: number | null;
  /** Least radius of curvature (mm), 0 where the outline has a sharp corner. */
  radius: number;
}

const PLACES = 1200;
/** A corner must stand out by this many times the uncertainty of the curvature. */
const SURE = 4;
/** The curvature of a measured outline is averaged over this many of its windows. */
const WINDOWS = 2;
/** Share of a corner's height that still counts as beside it. */
const LOWEST = 0.25;
const DEG = 180 / Math.PI;
const place = contourPoint();

/**
 * Returns the corners of an edge ahead of a cut, in order: sharp corners of the outline, and places of greatest curvature
 * whose radius is below half the thickness at the cut and whose prominence (height over the lowest curvature between them
 * and a greater one, or the cut) is at least the given share of their own. A corner's direction is the middle between the
 * mean normals of what lies to either side of it.
 * @param prominence least share, 0 … 1
 */
export function cornerPeaks(context: SectionContext, edge: EdgeContext, cut: Cut, prominence: number): CornerPeak[] {
  const { section, noise } = context;
  const { outline } = section;
  const { before: from, after: to } = cut;
  const base = Math.atan2(edge.outY, edge.outX);
  const angle = (): number => {
    const left = -edge.outX * place.tx - edge.outY * place.ty;
    return (base + Math.atan2(left, edge.outX * place.ty - edge.outY * place.tx)) * DEG;
  };
  const corners = cornersBetween(context, from, to);
  const sharp = corners.map((t): CornerPeak => {
    contourAt(outline, t, place, 'before');
    const first = angle();
    contourAt(outline, t, place, 'after');
    const uDeg = noise ? noise.direction(t) * DEG : null;
    return { x: place.x, y: place.y, from: t, to: t, angleDeg: 0.5 * (first + angle()), uDeg, radius: 0 };
  });
  const bend = noise && corners.length === 0 ? meanBend(context, from, to) : bendAt(context, from, to);
  const step = (to - from) / PLACES;
  const peaks = accepted(context, cut, bend, prominence);
  const valleys = [0, ...peaks, PLACES].slice(1).map((right, k) => {
    const left = k === 0 ? 0 : peaks[k - 1];
    const top = Math.min(
      k === 0 ? Number.POSITIVE_INFINITY : bend[left],
      k < peaks.length ? bend[right] : Number.POSITIVE_INFINITY,
    );
    return valley(bend, left, right, top, (i) => {
      contourAt(outline, from + i * step, place);
      return { angleDeg: angle(), u: noise ? noise.direction(from + i * step) * DEG : 0 };
    });
  });
  const round = peaks.map((i, k): CornerPeak => {
    const [left, right] = shoulders(bend, i).slice(1);
    contourAt(outline, from + 0.5 * (left + right) * step, place);
    return {
      x: place.x,
      y: place.y,
      from: from + left * step,
      to: from + right * step,
      angleDeg: 0.5 * (valleys[k].angleDeg + valleys[k + 1].angleDeg),
      uDeg: noise ? 0.5 * Math.hypot(valleys[k].u, valleys[k + 1].u) : null,
      radius: 1 / bend[i],
    };
  });
  return [...sharp, ...round].sort((a, b) => a.angleDeg - b.angleDeg);
}

/** Places of the greatest curvatures that count as corners. */
function accepted(context: SectionContext, cut: Cut, bend: Float64Array, prominence: number): number[] {
  const { noise } = context;
  const found: number[] = [];
  for (let i = 1; i < PLACES; i++) {
    if (!(bend[i] > bend[i - 1] && bend[i] >= bend[i + 1] && bend[i] * cut.thickness > 2)) continue;
    const sure = noise ? SURE * meanBendUncertainty(noise, cut.before + ((cut.after - cut.before) * i) / PLACES) : 0;
    if (bend[i] - shoulders(bend, i)[0] >= Math.max(prominence * bend[i], sure)) found.push(i);
  }
  return found;
}

/** Mean normal over the lowest quarter of the curvature between two corners, or a corner and the cut. */
function valley(
  bend: Float64Array,
  from: number,
  to: number,
  top: number,
  at: (i: number) => { angleDeg: number; u: number },
): { angleDeg: number; u: number } {
  let low = Number.POSITIVE_INFINITY;
  for (let i = from; i <= to; i++) low = Math.min(low, bend[i]);
  const most = Number.isFinite(top) ? low + LOWEST * (top - low) : Number.POSITIVE_INFINITY;
  let [sum, spread, count] = [0, 0, 0];
  for (let i = from; i <= to; i++) {
    if (bend[i] > most) continue;
    const { angleDeg, u } = at(i);
    sum += angleDeg;
    spread += u;
    count++;
  }
  return { angleDeg: sum / count, u: spread / count };
}

function bendAt(context: SectionContext, from: number, to: number): Float64Array {
  return Float64Array.from({ length: PLACES + 1 }, (_, i) => {
    contourAt(context.section.outline, from + ((to - from) * i) / PLACES, place);
    return place.curvature;
  });
}

/** Curvature averaged over some windows of the outline: the turn of the tangent over the length. */
function meanBend(context: SectionContext, from: number, to: number): Float64Array {
  const { turned, length, step } = turnAlong(context, from, to, PLACES);
  const { noise } = context;
  return Float64Array.from({ length: PLACES + 1 }, (_, i) => {
    const half = noise ? 0.5 * WINDOWS * noise.window(from + i * step) : 0;
    let low = i;
    let high = i;
    while (low > 0 && length[i] - length[low - 1] <= half) low--;
    while (high < PLACES && length[high + 1] - length[i] <= half) high++;
    low = Math.min(low, PLACES - 1);
    high = Math.max(high, low + 1);
    return (turned[high] - turned[low]) / (length[high] - length[low]);
  });
}

/** That of the mean curvature is the turn between two tangents some windows apart, which err on their own. */
function meanBendUncertainty(noise: PositionNoise, t: number): number {
  return Math.min(noise.curvature(t), (Math.SQRT2 * noise.direction(t)) / (WINDOWS * noise.window(t)));
}

/** Lowest curvature before a greater one comes, the higher of both sides, and where the curve crosses half-way up. */
function shoulders(bend: Float64Array, peak: number): [low: number, left: number, right: number] {
  const lowest = (way: 1 | -1): number => {
    let low = bend[peak];
    for (let i = peak + way; i >= 0 && i < bend.length; i += way) {
      if (bend[i] > bend[peak]) return low;
      low = Math.min(low, bend[i]);
    }
    return low;
  };
  const low = Math.max(lowest(-1), lowest(1));
  const half = 0.5 * (low + bend[peak]);
  const crossing = (way: 1 | -1): number => {
    let i = peak;
    while (i + way > 0 && i + way < bend.length - 1 && bend[i + way] > half) i += way;
    const above = bend[i] - half;
    const drop = bend[i] - bend[i + way];
    return drop > 0 ? i + way * Math.min(1, above / drop) : i;
  };
  return [low, crossing(-1), crossing(1)];
}
