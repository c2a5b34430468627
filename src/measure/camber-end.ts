import { type CircleFit, fitCircle } from '../math/circle-fit.ts';
import { fitNoseConic } from '../math/ellipse-fit.ts';
import type { FittedOutline } from '../model/outline.ts';
import type { SweepEnd } from './camber-sweep.ts';
import { type Contour, contourAt, contourPoint, curvatureMaximum, parameterFrom } from './contour.ts';
import { arcPoints, type EdgeArc, edgeArc, noseBetween, placeSigma, pointRms } from './edge-arc.ts';
import type { EdgeModel } from './edge-model.ts';
import type { Inscribed } from './inscribed-circle.ts';
import type { PositionNoise } from './position-noise.ts';

/** Circle at the end of the line of centres. */
export interface EndCircle {
  x: number;
  y: number;
  radius: number;
  kind: SweepEnd;
  /** Outline stretch beyond the last contacts, parameters rising. */
  from: number;
  to: number;
  /** Standard uncertainty of the centre (mm), null without noise. */
  u: number | null;
  /** … and that across the line of centres. */
  uAcross: number | null;
  /** Smooth nose through the points of a measured edge, null when none fits them within their noise. */
  model: EdgeModel | null;
}

/** A cap counts as a circle when a circle meets it within this share of its radius. */
const CAP = 1e-4;
/** Share of the arc left out at either end of a cap. */
const MARGIN = 0.08;
/** A smooth nose stands for the edge when its misfit is at most this many sigma. */
const MISFIT = 1.2;
const RAD = Math.PI / 180;
const place = contourPoint();

/**
 * Returns the circle at which the line of centres ends. Sharp end: the corner, radius 0. Exact outline: the circle of a
 * circular cap. Flat end: the circle that touches the end. Other round end of an exact outline: the osculating circle at
 * the greatest curvature (Blum's medial axis). Round end of a measured outline: circle or conic through the edge points,
 * whichever the noise calls for.
 * @param last last circle of the sweep
 * @param way 1 at the trailing, −1 at the leading edge
 * @param dx,dy outward unit direction of the line of centres
 */
export function endCircle(
  contour: Contour,
  last: Inscribed,
  way: 1 | -1,
  kind: SweepEnd,
  dx: number,
  dy: number,
  fitted: FittedOutline | undefined,
  noise: PositionNoise | null,
): EndCircle {
  const { outline } = contour;
  const from = way > 0 ? last.first : last.second - outline.period;
  const to = way > 0 ? last.second : last.first;
  const end = (x: number, y: number, radius: number, u: number | null): EndCircle => {
    return { x, y, radius, kind, from, to, u, uAcross: u, model: null };
  };
  const nose = noseBetween(contour, from, to, dx, dy);
  const u = noise ? noise.at(nose) : null;
  const cap = kind === 'sharp' || noise ? null : capCircle(contour, from, to);
  if (cap && cap.rms < CAP * cap.radius && Math.abs(cap.radius - last.radius) < 0.1 * last.radius)
    return { ...end(cap.x, cap.y, cap.radius, u), kind: 'round' };
  if (kind === 'flat') return end(last.x, last.y, last.radius, u);
  if (kind === 'sharp') {
    let at = nose;
    for (const corner of outline.corners) {
      const t = parameterFrom(outline, from, corner);
      if (t < to) at = t;
    }
    contourAt(outline, at, place);
    return end(place.x, place.y, 0, u);
  }
  if (noise && fitted) {
    const found = noisyEnd(contour, nose, last, dx, dy, fitted, noise);
    if (found) return { ...found, kind, from, to };
  }
  contourAt(outline, curvatureMaximum(contour, from, to), place);
  const radius = Math.min(1 / place.curvature, last.radius);
  return end(place.x - radius * place.ty, place.y + radius * place.tx, radius, u);
}

function capCircle(contour: Contour, from: number, to: number): CircleFit | null {
  const arc: EdgeArc = { from: from + MARGIN * (to - from), nose: from, to: to - MARGIN * (to - from) };
  const points = arcPoints(contour.outline, undefined, arc);
  return fitCircle(points.x, points.y, points.weights);
}

/** Circle unless a conic explains the points better than noise would; both over ±60° of normal direction or less. */
function noisyEnd(
  contour: Contour,
  nose: number,
  last: Inscribed,
  dx: number,
  dy: number,
  fitted: FittedOutline,
  noise: PositionNoise,
): Omit<EndCircle, 'kind' | 'from' | 'to'> | null {
  const half = Math.max(30 * RAD, Math.min(60 * RAD, last.halfAngle));
  const arc = edgeArc(contour, nose, dx, dy, half);
  if (!arc) return null;
  const points = arcPoints(contour.outline, fitted, arc);
  const { x, y, weights } = points;
  const circle = fitCircle(x, y, weights);
  if (!circle) return null;
  const sigma = placeSigma(points, noise.sigma);
  const conic = fitNoseConic(x, y, weights, -dx, -dy);
  const gain = conic ? (x.length * (circle.rms ** 2 - conic.rms ** 2)) / (sigma * sigma) : 0;
  const asCircle = !conic || gain < 6;
  const { radius, rms, covariance } = asCircle ? circle : conic;
  const noseX = asCircle ? circle.x + radius * dx : conic.noseX;
  const noseY = asCircle ? circle.y + radius * dy : conic.noseY;
  const model: EdgeModel = {
    noseX,
    noseY,
    outX: dx,
    outY: dy,
    radius,
    e: asCircle ? 1 : conic.e,
    halfAngle: half,
    covariance: (asCircle ? noseCovariance(covariance, dx, dy) : covariance).map((v) => v * sigma * sigma),
  };
  const u = sigma * Math.sqrt(covariance[asCircle ? 8 : 10]);
  return {
    x: noseX - radius * dx,
    y: noseY - radius * dy,
    radius,
    u,
    uAcross: Math.sqrt(model.covariance[5]),
    model: pointRms(points, rms) <= MISFIT * noise.sigma ? model : null,
  };
}

/** Covariance of (x, y, radius) of a circle carried over to nose along and across the inward axis, radius and e. */
function noseCovariance(circle: Float64Array, dx: number, dy: number): Float64Array {
  const rows = [
    [-dx, -dy, -1],
    [dy, -dx, 0],
    [0, 0, 1],
    [0, 0, 0],
  ];
  const covariance = new Float64Array(16);
  for (let i = 0; i < 4; i++)
    for (let j = 0; j < 4; j++)
      for (let k = 0; k < 3; k++)
        for (let l = 0; l < 3; l++) covariance[4 * i + j] += rows[i][k] * circle[3 * k + l] * rows[j][l];
  return covariance;
}
