import { fitNoseConic, type NoseConic, semiAxes } from '../math/ellipse-fit.ts';
import { measured, unmeasured, type Value } from '../model/value.ts';
import { arcPoints, edgeArc, placeSigma, pointRms } from './edge-arc.ts';
import { hasCorner, noArcReason } from './edge-radius.ts';
import { type EdgeContext, lacking, type SectionContext } from './section-context.ts';

/** Semi-axes along and across the line of centres, and b² / a. */
export interface EdgeEllipse {
  a: Value;
  b: Value;
  noseRadius: Value;
}

const DEFINITION = 'E-AB';
/** Half angles of normal direction tried, widest last (degrees). */
const HALF_ANGLES = [60, 66, 72, 76, 80, 83, 85, 87, 88, 89];
/** Misfit of an exact outline, as a share of the nose radius, up to which the ellipse counts as met. */
const EXACT = 2e-4;

/**
 * Returns the ellipse through an edge (E-AB): orthogonal distances, one axis along the line of centres. The arc widens
 * from ±60° of normal direction as long as the points stay within their noise; what the last widening changed counts as uncertainty.
 */
export function edgeEllipse(context: SectionContext, edge: EdgeContext): EdgeEllipse {
  const all = (value: Value): EdgeEllipse => ({ a: value, b: value, noseRadius: value });
  const reason = noArcReason(edge, hasCorner(context, edge));
  if (reason) return all(unmeasured('not-applicable', reason, 'mm', DEFINITION));
  const { noise, options } = context;
  let conic: NoseConic | null = null;
  let before: NoseConic | null = null;
  let halfAngleDeg = 0;
  let count = 0;
  let rms = 0;
  let sigma = 0;
  for (const angle of HALF_ANGLES) {
    const arc = edgeArc(context.contour, edge.nose, edge.outX, edge.outY, (angle * Math.PI) / 180);
    if (!arc) break;
    const missing = lacking(context, [[arc.from, arc.to, `the ${edge.which} edge`]], 'mm', DEFINITION);
    if (missing && !conic) return all(missing);
    if (missing) break;
    const points = arcPoints(context.section.outline, context.section.fitted, arc);
    const next = fitNoseConic(points.x, points.y, points.weights, -edge.outX, -edge.outY);
    if (!next?.converged) break;
    const n = points.count;
    const misfit = pointRms(points, next.rms);
    const limit =
      noise && points.measured ? noise.sigma * (1 + 2 / Math.sqrt(2 * n)) : EXACT * Math.max(next.radius, 0);
    if (conic && misfit > limit) break;
    before = conic;
    conic = next;
    halfAngleDeg = angle;
    count = points.measured ? n : 0;
    rms = misfit;
    sigma = noise ? placeSigma(points, noise.sigma) : 0;
  }
  if (!conic) return all(unmeasured('not-applicable', `No ellipse fits the ${edge.which} edge.`, 'mm', DEFINITION));
  const parameters = { halfAngleDeg, axisDeg: (Math.atan2(-edge.outY, -edge.outX) * 180) / Math.PI };
  const evidence = { points: count, rms };
  const scale = noise && count > 0 ? sigma : null;
  const uRadius = scale === null ? null : scale * Math.sqrt(conic.covariance[10]);
  const noseRadius = measured(conic.radius, uRadius, 'mm', DEFINITION, { parameters, evidence });
  const axes = semiAxes(conic);
  const ill = (what: string) =>
    unmeasured('not-applicable', `The edge points do not determine ${what}.`, 'mm', DEFINITION, {
      parameters,
      evidence,
    });
  if (!axes) return { a: ill('the semi-axis along the camber line'), b: ill('the semi-axis across'), noseRadius };
  const last = before ? semiAxes(before) : null;
  const axis = (name: 'a' | 'b', variance: number, what: string): Value => {
    const value = axes[name];
    const change = last ? value - last[name] : 0;
    const u = scale === null ? null : Math.hypot(scale * Math.sqrt(variance), change);
    if (u !== null && u > options.largestAxisUncertainty * value) return ill(what);
    return measured(value, u, 'mm', DEFINITION, { parameters, evidence });
  };
  return {
    a: axis('a', axes.varianceA, 'the semi-axis along the camber line'),
    b: axis('b', axes.varianceB, 'the semi-axis across'),
    noseRadius,
  };
}
