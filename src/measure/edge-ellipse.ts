import { fitNoseConic, type NoseConic, semiAxes } from '../math/ellipse-fit.ts';
import { measured, type Parameters, unmeasured, type Value } from '../model/value.ts';
import { arcPoints, edgeArc, placeSigma, pointRms } from './edge-arc.ts';
import { hasCorner, noArcReason } from './edge-radius.ts';
import { type EdgeContext, lacking, type SectionContext } from './section-context.ts';

/** Semi-axes along and across the line of centres, and b² / a. */
export interface EdgeEllipse {
  a: Value;
  b: Value;
  noseRadius: Value;
}

/** The widest arc that a conic explains. */
interface Explained {
  conic: NoseConic;
  /** The conic over the arc before the last widening, null when there was none. */
  before: NoseConic | null;
  halfAngleDeg: number;
  /** Measured points, 0 on an exact outline. */
  count: number;
  rms: number;
  /** Standard deviation of one place of the fit (mm), null without noise. */
  sigma: number | null;
}

const DEFINITION = 'E-AB';
/** Half angles of normal direction tried, widest last (degrees). */
const HALF_ANGLES = [60, 66, 72, 76, 80, 83, 85, 87, 88, 89];
/** Misfit of an exact outline, as a share of the nose radius, up to which the ellipse counts as met. */
const EXACT = 2e-4;
const DEG = 180 / Math.PI;

/**
 * Returns the ellipse through an edge (E-AB): orthogonal distances, one axis along the line of centres. The arc widens
 * from ±60° of normal direction as long as the points stay within their noise; what the last widening changed counts as uncertainty.
 * @param ratio a : b where the drawing fixes it, 0 to find it
 */
export function edgeEllipse(context: SectionContext, edge: EdgeContext, ratio: number): EdgeEllipse {
  const parameters: Parameters = ratio > 0 ? { ratio } : {};
  const all = (value: Value): EdgeEllipse => ({ a: value, b: value, noseRadius: value });
  const reason = noArcReason(edge, hasCorner(context, edge));
  if (reason) return all(unmeasured('not-applicable', reason, 'mm', DEFINITION, { parameters }));
  const found = explainedArc(context, edge, ratio > 0 ? 1 / (ratio * ratio) : undefined);
  if ('status' in found) return all({ ...found, parameters });
  const { conic, sigma } = found;
  const axes = semiAxes(conic);
  const evidence = evidenceOf(found, edge, axes?.a ?? null, axes?.b ?? null);
  const uRadius = sigma === null ? null : sigma * Math.sqrt(conic.covariance[10]);
  const noseRadius = measured(conic.radius, uRadius, 'mm', DEFINITION, { parameters, evidence });
  const ill = (what: string) =>
    unmeasured('not-applicable', `The edge points do not determine ${what}.`, 'mm', DEFINITION, {
      parameters,
      evidence,
    });
  if (!axes) return { a: ill('the semi-axis along the camber line'), b: ill('the semi-axis across'), noseRadius };
  const last = found.before ? semiAxes(found.before) : null;
  const axis = (name: 'a' | 'b', variance: number, what: string): Value => {
    const value = axes[name];
    const change = last ? value - last[name] : 0;
    const u = sigma === null ? null : Math.hypot(sigma * Math.sqrt(variance), change);
    if (u !== null && u > context.options.largestAxisUncertainty * value) return ill(what);
    return measured(value, u, 'mm', DEFINITION, { parameters, evidence });
  };
  return {
    a: axis('a', axes.varianceA, 'the semi-axis along the camber line'),
    b: axis('b', axes.varianceB, 'the semi-axis across'),
    noseRadius,
  };
}

/** Widens the arc while a conic explains its points; a value that says why when there is not even one. */
function explainedArc(context: SectionContext, edge: EdgeContext, fixedE: number | undefined): Explained | Value {
  let found: Explained | null = null;
  for (const angle of HALF_ANGLES) {
    const next = arcConic(context, edge, angle, fixedE, found);
    if (!next) break;
    if ('status' in next) return next;
    found = next;
  }
  return found ?? unmeasured('not-applicable', `No ellipse fits the ${edge.which} edge.`, 'mm', DEFINITION);
}

/** The conic over one half angle; null when it does not explain its points as the narrower one before did. */
function arcConic(
  context: SectionContext,
  edge: EdgeContext,
  halfAngleDeg: number,
  fixedE: number | undefined,
  before: Explained | null,
): Explained | Value | null {
  const { noise } = context;
  const arc = edgeArc(context.contour, edge.nose, edge.outX, edge.outY, halfAngleDeg / DEG);
  if (!arc) return null;
  const missing = lacking(context, [[arc.from, arc.to, `the ${edge.which} edge`]], 'mm', DEFINITION);
  if (missing) return before ? null : missing;
  const points = arcPoints(context.section.outline, context.section.fitted, arc);
  const conic = fitNoseConic(points.x, points.y, points.weights, -edge.outX, -edge.outY, fixedE);
  if (!conic?.converged) return null;
  const rms = pointRms(points, conic.rms);
  const noisy = noise !== null && points.measured;
  const limit = noisy ? noise.sigma * (1 + 2 / Math.sqrt(2 * points.count)) : EXACT * Math.max(conic.radius, 0);
  if (before && rms > limit) return null;
  return {
    conic,
    before: before ? before.conic : null,
    halfAngleDeg,
    count: points.measured ? points.count : 0,
    rms,
    sigma: noisy ? placeSigma(points, noise.sigma) : null,
  };
}

function evidenceOf(
  found: Explained,
  edge: EdgeContext,
  a: number | null,
  b: number | null,
): NonNullable<Value['evidence']> {
  const { conic, halfAngleDeg, count, rms } = found;
  const inward = Math.atan2(-edge.outY, -edge.outX) * DEG;
  const nose = { points: count, rms, noseX: conic.noseX, noseY: conic.noseY, axisDeg: inward, halfAngleDeg };
  if (a === null || b === null) return nose;
  return { ...nose, centreX: conic.noseX - a * edge.outX, centreY: conic.noseY - a * edge.outY, a, b };
}
