import { outlineFeet } from '../fit/outline-foot.ts';
import { planeLength } from '../math/plane-length.ts';
import type { EdgeMeasures, SectionMeasures } from '../model/results.ts';
import { measured, unmeasured, type Value } from '../model/value.ts';
import type { CarriedSection } from '../section/carry-points.ts';
import { type ArcStarts, arcStarts, pointsNearArc, pointsOfArc } from './arc-starts.ts';
import { contourAt, contourPoint } from './contour.ts';
import { edgeArc } from './edge-arc.ts';
import { EDGE_CLASS_DEFAULTS, type EdgeDepartures, type EdgeKind, edgeClass } from './edge-class.ts';
import type { EdgeContext, SectionContext } from './section-context.ts';
import { risingOrder } from './sorted-feet.ts';

const DEG = 180 / Math.PI;
/**
 * Normal directions either side of the nose that make the edge (rad): the first that comes before the flanks, which turn
 * so little that the arc would be longer than the last one's by more than a share.
 */
const REACHES = [88, 84, 80, 76, 72, 68].map((angle) => angle / DEG);
const FLANK_SHARE = 1.2;
/** The form is told from this many points with no wider gap between their normals (rad). */
const LEAST_POINTS = 60;
const WIDEST_GAP = 15 / DEG;
const STARTS = 48;
/** Points that come onto the arc when all move by this much (mm) are looked at; the others only when it is more. */
const MOST_SHIFT = 0.3;
/** Noise below this (mm) is taken for it: exact points still differ from a fitted nominal by so much. */
const LEAST_NOISE = 5e-4;

const place = contourPoint();

/** Kinds that are a fault of form; size stands in the rows of the radius. */
const FORMS: readonly EdgeKind[] = ['blunt', 'pointed', 'flat', 'asymmetric'];

export type EdgeForm = Pick<EdgeMeasures, 'form' | 'faults'>;

/**
 * Returns the form class of a measured edge against the nominal one (FORM): the points' normal departures from the
 * nominal edge, its position fitted, by `edgeClass`; with a fault beside it when the form is not as nominal.
 * @param points carried section points, x0, y0, … (mm)
 * @param noise standard deviation of a point along the normal (mm)
 */
export function edgeFormClass(
  nominal: SectionContext,
  which: 'leading' | 'trailing',
  points: Float64Array,
  noise: number,
): EdgeForm {
  const edge = nominal[which];
  const arc = edge && edge.end.kind === 'round' ? reachedArc(nominal, edge) : null;
  if (!edge || !arc) return { form: none('not-applicable', `The ${which} edge has no arc.`), faults: [] };
  const departures = placedDepartures(nominal, arc, [edge.outX, edge.outY], points);
  if (!departures) return { form: none('not-measured', `Too few points on the ${which} edge.`), faults: [] };
  const sigma = Math.max(noise, LEAST_NOISE);
  const { kind, amplitude, u, angle, width, confidence } = edgeClass(departures, sigma, EDGE_CLASS_DEFAULTS);
  const evidence = { points: departures.angle.length, angleDeg: angle * DEG, width, confidence };
  const value = measured(amplitude, u, 'mm', 'FORM', { parameters: { reference: 'nominal' }, evidence });
  const faults = FORMS.includes(kind) ? [{ code: `edge/${kind}`, message: sentence(which, kind, amplitude) }] : [];
  return { form: { ...value, kind }, faults };
}

function none(status: 'not-applicable' | 'not-measured', reason: string): Value & { kind: null } {
  return { ...unmeasured(status, reason, 'mm', 'FORM', { parameters: { reference: 'nominal' } }), kind: null };
}

function sentence(which: string, kind: EdgeKind, amplitude: number): string {
  return `The ${which} edge is ${kind}, by ${Math.abs(amplitude).toFixed(3)} mm.`;
}

interface ReachedArc {
  from: number;
  to: number;
  reach: number;
}

/** The arc of a nominal edge as far as it turns like one; null when it has none. */
function reachedArc({ contour }: SectionContext, edge: EdgeContext): ReachedArc | null {
  const arcs = REACHES.map((reach) => ({ reach, arc: edgeArc(contour, edge.nose, edge.outX, edge.outY, reach) }));
  const last = arcs[arcs.length - 1];
  if (!last.arc) return null;
  const most = (FLANK_SHARE * (last.arc.to - last.arc.from)) / last.reach;
  for (const { reach, arc } of arcs)
    if (arc && arc.to - arc.from <= most * reach) return { from: arc.from, to: arc.to, reach };
  return null;
}

/** Rounds of moving the points onto the edge: a shift of a small edge is not linear in its departures. */
const ROUNDS = 5;

/** Departures once the edge has been moved, without turning, to where its departures are least. */
function placedDepartures(
  nominal: SectionContext,
  arc: ReachedArc,
  out: readonly [number, number],
  points: Float64Array,
): EdgeDepartures | null {
  const starts = arcStarts(nominal.section.outline, arc.from, arc.to, STARTS);
  let moved = pointsNearArc(starts, points, MOST_SHIFT);
  let near = true;
  let [sumX, sumY] = [0, 0];
  for (let round = 0; ; round++) {
    const found = edgeDepartures(nominal, arc, starts, out, moved);
    if (!found || round === ROUNDS) return found;
    const { nx, ny, departure } = found;
    let [xx, xy, yy, xd, yd] = [0, 0, 0, 0, 0];
    for (let i = 0; i < departure.length; i++) {
      xx += nx[i] * nx[i];
      xy += nx[i] * ny[i];
      yy += ny[i] * ny[i];
      xd += nx[i] * departure[i];
      yd += ny[i] * departure[i];
    }
    const det = xx * yy - xy * xy;
    if (!(det > 0)) return found;
    const [dx, dy] = [(xd * yy - yd * xy) / det, (yd * xx - xd * xy) / det];
    sumX += dx;
    sumY += dy;
    const beyond = near && planeLength(sumX, sumY) > MOST_SHIFT;
    if (beyond) near = false;
    moved = beyond ? shifted(points, sumX, sumY) : shifted(moved, dx, dy);
  }
}

function shifted(points: Float64Array, dx: number, dy: number): Float64Array {
  const moved = new Float64Array(points.length);
  for (let i = 0; i < points.length; i += 2) {
    moved[i] = points[i] - dx;
    moved[i + 1] = points[i + 1] - dy;
  }
  return moved;
}

/** Departures of the points on an arc of the nominal outline, rising in normal angle; null when they do not cover it. */
function edgeDepartures(
  nominal: SectionContext,
  arc: ReachedArc,
  starts: ArcStarts,
  out: readonly [number, number],
  points: Float64Array,
): EdgeDepartures | null {
  const { outline } = nominal.section;
  const { near, guess } = pointsOfArc(starts, points);
  const count = guess.length;
  if (count < LEAST_POINTS) return null;
  const t = new Float64Array(count);
  const distance = new Float64Array(count);
  outlineFeet(outline, near, guess, t, distance);
  const turned = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    contourAt(outline, t[i], place);
    turned[i] = Math.atan2(-out[0] * place.tx - out[1] * place.ty, out[0] * place.ty - out[1] * place.tx);
  }
  const order = risingOrder(turned);
  const [angle, x, y, nx, ny, departure] = Array.from({ length: 6 }, () => new Float64Array(count));
  let last = -arc.reach;
  for (let k = 0; k < count; k++) {
    const i = order[k];
    contourAt(outline, t[i], place);
    angle[k] = turned[i];
    x[k] = place.x;
    y[k] = place.y;
    nx[k] = place.ty;
    ny[k] = -place.tx;
    departure[k] = distance[i];
    if (angle[k] - last > WIDEST_GAP) return null;
    last = angle[k];
  }
  return arc.reach - last > WIDEST_GAP ? null : { angle, x, y, nx, ny, departure };
}

/** Returns the measures of a section with the form classes of both edges against the nominal's. */
export function withEdgeForms(
  measures: SectionMeasures,
  { nominal, carried, noise }: { nominal: SectionContext; carried: CarriedSection; noise: number },
): SectionMeasures {
  const form = (which: 'leading' | 'trailing', edge: EdgeMeasures): EdgeMeasures => {
    const found = edgeFormClass(nominal, which, carried.points, noise);
    return { ...edge, ...found, faults: [...edge.faults, ...found.faults] };
  };
  return {
    ...measures,
    leadingEdge: form('leading', measures.leadingEdge),
    trailingEdge: form('trailing', measures.trailingEdge),
  };
}
