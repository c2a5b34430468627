import { outlineFoot } from '../fit/outline-foot.ts';
import { type CircleFit, fitCircle } from '../math/circle-fit.ts';
import type { Outline } from '../model/outline.ts';
import { measured, type Parameters, unmeasured, type Value } from '../model/value.ts';
import { contourAt, contourPoint } from './contour.ts';
import { type ArcPoints, arcPoints, type EdgeArc, placeSigma, pointRms } from './edge-arc.ts';
import { type EdgeContext, lacking, type SectionContext } from './section-context.ts';

type Circle = Pick<CircleFit, 'x' | 'y' | 'radius'>;

/** How far noise shifts the ends of an arc (mm along the outline): each on its own, and both by one cause. */
export interface ArcEndShift {
  from: number;
  to: number;
  commonFrom: number;
  commonTo: number;
}

/** Share of the arc by which an end is moved to see what it changes. */
const STEP = 0.02;
const DEG = 180 / Math.PI;
const place = contourPoint();

/**
 * Returns the radius of the least-squares circle through the points of an arc, arc-length weights (measured points when
 * there are any). Its uncertainty is that of the fit, and what the shift of the arc's ends changes on an edge that is no
 * circle.
 * @param shift of the arc's ends by noise, null without noise
 */
export function arcCircle(
  context: SectionContext,
  edge: EdgeContext,
  arc: EdgeArc,
  definition: string,
  parameters: Parameters,
  shift: ArcEndShift | null,
): Value {
  const { section, noise } = context;
  const missing = lacking(context, [[arc.from, arc.to, `the ${edge.which} edge`]], 'mm', definition);
  if (missing) return { ...missing, parameters };
  const points = arcPoints(section.outline, section.fitted, arc);
  const fit = fitCircle(points.x, points.y, points.weights);
  const found = fit && points.measured ? evened(section.outline, points, arc, fit) : fit;
  if (!fit?.converged || !found)
    return unmeasured('not-converged', 'The circle did not settle on the edge points.', 'mm', definition, {
      parameters,
    });
  let u: number | null = null;
  if (noise && points.measured && shift) {
    const own = placeSigma(points, noise.sigma) * Math.sqrt(fit.covariance[8]);
    const [from, to] = endRates(context, arc);
    const both = from * shift.commonFrom + to * shift.commonTo;
    u = Math.hypot(own, from * shift.from, to * shift.to, both);
  }
  return measured(found.radius, u, 'mm', definition, {
    parameters,
    evidence: {
      points: points.measured ? points.count : 0,
      rms: pointRms(points, fit.rms),
      centreX: found.x,
      centreY: found.y,
      fromDeg: normalDeg(context, arc.from),
      toDeg: normalDeg(context, arc.to),
    },
  });
}

/**
 * Points that lie unevenly stand for an arc that is no circle with an error of their own: that of the circle through
 * their feet against the circle through the whole outline. Returns the circle without it, null where a fit fails.
 */
function evened(outline: Outline, points: ArcPoints, arc: EdgeArc, fit: CircleFit): Circle | null {
  const n = points.x.length;
  const x = new Float64Array(n);
  const y = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    contourAt(outline, outlineFoot(outline, points.x[i], points.y[i]).t, place);
    x[i] = place.x;
    y[i] = place.y;
  }
  const whole = arcPoints(outline, undefined, arc);
  const even = fitCircle(whole.x, whole.y, whole.weights);
  const feet = fitCircle(x, y, points.weights);
  if (!even || !feet) return null;
  return { x: fit.x + even.x - feet.x, y: fit.y + even.y - feet.y, radius: fit.radius + even.radius - feet.radius };
}

/** Change of the radius of the circle through the outline for a millimetre by which either end moves outwards. */
function endRates(context: SectionContext, arc: EdgeArc): [number, number] {
  const { outline } = context.section;
  const step = STEP * (arc.to - arc.from);
  const radius = (from: number, to: number): number => {
    const points = arcPoints(outline, undefined, { ...arc, from, to });
    return fitCircle(points.x, points.y, points.weights)?.radius ?? Number.NaN;
  };
  contourAt(outline, arc.from, place);
  const from = (radius(arc.from - step, arc.to) - radius(arc.from + step, arc.to)) / (2 * step * place.speed);
  contourAt(outline, arc.to, place);
  const to = (radius(arc.from, arc.to + step) - radius(arc.from, arc.to - step)) / (2 * step * place.speed);
  return [from, to];
}

/** Direction of the outward normal at a parameter, degrees from +X. */
export function normalDeg(context: SectionContext, t: number): number {
  contourAt(context.section.outline, t, place);
  return Math.atan2(-place.tx, place.ty) * DEG;
}
