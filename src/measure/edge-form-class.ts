import { outlineFeet } from '../fit/outline-foot.ts';
import type { EdgeMeasures, SectionMeasures } from '../model/results.ts';
import { measured, unmeasured, type Value } from '../model/value.ts';
import type { CarriedSection } from '../section/carry-points.ts';
import { contourAt, contourPoint } from './contour.ts';
import { edgeArc } from './edge-arc.ts';
import { EDGE_CLASS_DEFAULTS, type EdgeDepartures, type EdgeKind, edgeClass } from './edge-class.ts';
import type { EdgeContext, SectionContext } from './section-context.ts';

const DEG = 180 / Math.PI;
/**
 * Normal directions either side of the nose that make the edge (rad): the first that comes before the flanks, which turn
 * so little that the arc would be longer than the last one's by more than a share.
 */
const REACHES = [88 / DEG, 84 / DEG, 80 / DEG];
const FLANK_SHARE = 1.2;
/** The form is told from this many points with no wider gap between their normals (rad). */
const LEAST_POINTS = 60;
const WIDEST_GAP = 15 / DEG;
const STARTS = 48;
/** Noise below this (mm) is taken for it: exact points still differ from a fitted nominal by so much. */
const LEAST_NOISE = 5e-4;

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
  let moved = points;
  for (let round = 0; ; round++) {
    const found = edgeDepartures(nominal, arc, out, moved);
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
    moved = moved.map((v, k) => v - (k % 2 === 0 ? dx : dy));
  }
}

/** Departures of the points on an arc of the nominal outline, rising in normal angle; null when they do not cover it. */
function edgeDepartures(
  nominal: SectionContext,
  arc: ReachedArc,
  out: readonly [number, number],
  points: Float64Array,
): EdgeDepartures | null {
  const { outline } = nominal.section;
  const place = contourPoint();
  const starts = Array.from({ length: STARTS + 1 }, (_, k) => {
    const t = arc.from + ((arc.to - arc.from) * k) / STARTS;
    contourAt(outline, t, place);
    return { t, x: place.x, y: place.y };
  });
  const near: number[] = [];
  const guess: number[] = [];
  for (let i = 0; i < points.length; i += 2) {
    let best = 0;
    let least = Infinity;
    for (let k = 0; k <= STARTS; k++) {
      const square = (points[i] - starts[k].x) ** 2 + (points[i + 1] - starts[k].y) ** 2;
      if (square < least) [least, best] = [square, k];
    }
    if (best === 0 || best === STARTS) continue;
    near.push(points[i], points[i + 1]);
    guess.push(starts[best].t);
  }
  const count = guess.length;
  if (count < LEAST_POINTS) return null;
  const t = new Float64Array(count);
  const departure = new Float64Array(count);
  outlineFeet(outline, Float64Array.from(near), Float64Array.from(guess), t, departure);
  const feet = Array.from(t, (at, i) => {
    contourAt(outline, at, place);
    const [nx, ny] = [place.ty, -place.tx];
    const angle = Math.atan2(out[0] * ny - out[1] * nx, out[0] * nx + out[1] * ny);
    return { angle, x: place.x, y: place.y, nx, ny, departure: departure[i] };
  });
  feet.sort((a, b) => a.angle - b.angle);
  let last = -arc.reach;
  for (const { angle } of [...feet, { angle: arc.reach }]) {
    if (angle - last > WIDEST_GAP) return null;
    last = angle;
  }
  const column = (key: keyof EdgeDepartures) => Float64Array.from(feet, (foot) => foot[key]);
  return {
    angle: column('angle'),
    x: column('x'),
    y: column('y'),
    nx: column('nx'),
    ny: column('ny'),
    departure: column('departure'),
  };
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
