import { interpolateOutline } from '../fit/interpolate-outline.ts';
import type { NominalOutline } from '../fit/nominal-outline.ts';
import { evaluateOutline, outlineKnotSpans } from '../fit/outline-evaluate.ts';
import type { FlankName } from '../measure/definitions/definition.ts';
import type { Outline } from '../model/outline.ts';
import type { EdgeFlanks } from './adapt-edge.ts';
import type { EdgeCurve } from './edge-curve.ts';

/** An edge that takes the place of a stretch of an outline. */
export interface SplicedEdge {
  curve: EdgeCurve;
  flanks: EdgeFlanks;
  /** Set-back up to which the outline is replaced (mm). */
  most: number;
  /** Parameters of the outline at that set-back before and after the nose, counter-clockwise; `before` < `after`. */
  before: number;
  after: number;
  /** Side that follows the nose counter-clockwise. */
  afterSide: FlankName;
}

/** Points of a carried-on flank between the greatest set-back and the junction. */
const CARRIED = 6;
/** Neighbours of a splice nearer than this are left out (mm). */
const LEAST_STEP = 0.05;

/** Returns the closed outline through an outline's own knots and the curves that replace its edges. */
export function spliceEdges(base: NominalOutline, spliced: readonly SplicedEdge[]): Outline {
  const { outline } = base;
  const { period } = outline;
  if (spliced.length === 0) return outline;
  const points: number[] = [];
  const corners: number[] = [];
  const out = new Float64Array(8);
  const start = spliced[0].after;
  const wrapped = (t: number) => t - period * Math.floor((t - start) / period);
  const replaced = (t: number) =>
    spliced.some(({ before, after }) => {
      const from = wrapped(before - LEAST_STEP);
      const ahead = t - from - period * Math.floor((t - from) / period);
      return ahead < after - before + 2 * LEAST_STEP;
    });
  const events: { t: number; write: () => void }[] = [];
  for (const knot of outlineKnotSpans(outline)) {
    if (replaced(knot)) continue;
    const t = wrapped(knot);
    events.push({
      t,
      write: () => {
        evaluateOutline(outline, knot, out);
        if (outline.corners.some((corner) => Math.abs(corner - knot) < 1e-9 * period)) corners.push(points.length >> 1);
        points.push(out[0], out[1]);
      },
    });
  }
  for (const edge of spliced) {
    const t = wrapped(edge.before);
    events.push({ t: t === start ? start + period : t, write: () => points.push(...edgePoints(edge)) });
  }
  events.sort((a, b) => a.t - b.t);
  for (const { write } of events) write();
  return interpolateOutline(Float64Array.from(points), { corners });
}

/** Points of a replaced stretch, counter-clockwise: carried-on flank, edge, carried-on flank. */
function edgePoints({ curve, flanks, most, afterSide }: SplicedEdge): number[] {
  const [suction, pressure] = (['suction', 'pressure'] as const).map((side) => {
    const junction = curve.junctions[side === 'suction' ? 0 : 1];
    const list: [number, number][] = [];
    for (let i = 0; i < CARRIED; i++) {
      const at = flanks[side](most + ((junction.setback - most) * i) / CARRIED);
      if (at && most - junction.setback > LEAST_STEP) list.push([at.x, at.y]);
    }
    return list;
  });
  const along: [number, number][] = Array.from({ length: curve.at.length }, (_, i) => [
    curve.points[2 * i],
    curve.points[2 * i + 1],
  ]);
  const all = [...suction, ...along, ...pressure.reverse()];
  return (afterSide === 'suction' ? all.reverse() : all).flat();
}
