import { contourAt, contourPoint } from './contour.ts';
import type { Cut } from './cut-thickness.ts';
import { cornersBetween } from './edge-radius.ts';
import type { EdgeContext, SectionContext } from './section-context.ts';

/** A place of an edge that bends more than what lies to either side. */
export interface CornerPeak {
  x: number;
  y: number;
  /** Mean direction of the normal over the corner, degrees from +X, growing along the outline. */
  angleDeg: number;
  /** Its standard uncertainty, null without noise. */
  uDeg: number | null;
  /** Least radius of curvature (mm), 0 where the outline has a sharp corner. */
  radius: number;
}

const PLACES = 1200;
/** A corner must stand out by this many times the uncertainty of the curvature. */
const SURE = 4;
const DEG = 180 / Math.PI;
const place = contourPoint();

/**
 * Returns the corners of an edge ahead of a cut, in order: sharp corners of the outline, and places of greatest curvature
 * whose radius is below half the thickness at the cut and whose prominence (height over the lowest curvature between them
 * and a greater one, or the cut) is at least the given share of their own. A corner's direction is the middle of the normals over its upper half.
 * @param prominence least share, 0 … 1
 */
export function cornerPeaks(context: SectionContext, edge: EdgeContext, cut: Cut, prominence: number): CornerPeak[] {
  const { section, noise } = context;
  const { before: from, after: to } = cut;
  const { outline } = section;
  const base = Math.atan2(edge.outY, edge.outX);
  const angle = () =>
    (base + Math.atan2(-edge.outX * place.tx - edge.outY * place.ty, edge.outX * place.ty - edge.outY * place.tx)) *
    DEG;
  const sharp = cornersBetween(context, from, to).map((t): CornerPeak => {
    contourAt(outline, t, place, 'before');
    const before = angle();
    contourAt(outline, t, place, 'after');
    const uDeg = noise ? noise.direction(t) * DEG : null;
    return { x: place.x, y: place.y, angleDeg: 0.5 * (before + angle()), uDeg, radius: 0 };
  });
  const step = (to - from) / PLACES;
  const bend = new Float64Array(PLACES + 1);
  for (let i = 0; i <= PLACES; i++) {
    contourAt(outline, from + i * step, place);
    bend[i] = place.curvature;
  }
  const round: CornerPeak[] = [];
  for (let i = 1; i < PLACES; i++) {
    if (!(bend[i] > bend[i - 1] && bend[i] >= bend[i + 1] && bend[i] * cut.thickness > 2)) continue;
    const t = from + i * step;
    const [low, left, right] = shoulders(bend, i);
    const least = Math.max(prominence * bend[i], noise ? SURE * noise.curvature(t) : 0);
    if (bend[i] - low < least) continue;
    contourAt(outline, from + left * step, place);
    const before = angle();
    contourAt(outline, from + right * step, place);
    const after = angle();
    const ends = noise ? Math.hypot(noise.direction(from + left * step), noise.direction(from + right * step)) : null;
    contourAt(outline, from + 0.5 * (left + right) * step, place);
    round.push({
      x: place.x,
      y: place.y,
      angleDeg: 0.5 * (before + after),
      uDeg: ends === null ? null : 0.5 * ends * DEG,
      radius: 1 / bend[i],
    });
  }
  return [...sharp, ...round].sort((a, b) => a.angleDeg - b.angleDeg);
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
