import type { BsplineCurve, BsplineSurface } from '../model/bspline.ts';
import { curveGap, surfaceGap } from '../spatial/bspline-closed.ts';
import { stepList, stepReal, stepString } from './step-text.ts';

/** Adds an entity and returns the reference to it. */
export type StepAdd = (entity: string) => string;

/** Distance up to which two places are the same (mm); the file states it. */
export const STEP_UNCERTAINTY = 1e-6;

const reals = (values: Iterable<number>): string => stepList(Array.from(values, stepReal));
const flag = (value: boolean): string => (value ? '.T.' : '.F.');

/** Every knot once, and how often each counts. */
function grouped(knots: Float64Array): { once: number[]; times: string } {
  const once: number[] = [];
  const times: number[] = [];
  for (const knot of knots) {
    if (once[once.length - 1] === knot) times[times.length - 1]++;
    else {
      once.push(knot);
      times.push(1);
    }
  }
  return { once, times: stepList(times.map(String)) };
}

function points(add: StepAdd, poles: Float64Array): string[] {
  return Array.from({ length: poles.length / 3 }, (_, i) =>
    add(`CARTESIAN_POINT('',${reals(poles.subarray(3 * i, 3 * i + 3))})`),
  );
}

/** Adds a curve and its points; a complex entity when it is rational. Returns its reference. */
export function addStepCurve(add: StepAdd, name: string, curve: BsplineCurve): string {
  const { degree, knots, poles, weights } = curve;
  const { once, times } = grouped(knots);
  const closed = flag(curveGap(curve) <= STEP_UNCERTAINTY);
  const base = `${degree},${stepList(points(add, poles))},.UNSPECIFIED.,${closed},.F.`;
  const ends = `${times},${reals(once)},.UNSPECIFIED.`;
  const title = stepString(name);
  if (weights === undefined) return add(`B_SPLINE_CURVE_WITH_KNOTS(${title},${base},${ends})`);
  return add(
    `(BOUNDED_CURVE()B_SPLINE_CURVE(${base})B_SPLINE_CURVE_WITH_KNOTS(${ends})CURVE()GEOMETRIC_REPRESENTATION_ITEM()` +
      `RATIONAL_B_SPLINE_CURVE(${reals(weights)})REPRESENTATION_ITEM(${title}))`,
  );
}

/** Adds a surface and its points; a complex entity when it is rational. Returns its reference. */
export function addStepSurface(add: StepAdd, name: string, surface: BsplineSurface): string {
  const { degreeU, degreeV, knotsU, knotsV, countU, countV, poles, weights } = surface;
  const refs = points(add, poles);
  // The file lists poles by u first, then by v.
  const byU = (value: (i: number) => string): string =>
    stepList(
      Array.from({ length: countU }, (_, i) =>
        stepList(Array.from({ length: countV }, (__, j) => value(j * countU + i))),
      ),
    );
  const [alongU, alongV] = [grouped(knotsU), grouped(knotsV)];
  const closed = (['u', 'v'] as const).map((across) => flag(surfaceGap(surface, across) <= STEP_UNCERTAINTY));
  const base = `${degreeU},${degreeV},${byU((k) => refs[k])},.UNSPECIFIED.,${closed.join(',')},.F.`;
  const ends = `${alongU.times},${alongV.times},${reals(alongU.once)},${reals(alongV.once)},.UNSPECIFIED.`;
  const title = stepString(name);
  if (weights === undefined) return add(`B_SPLINE_SURFACE_WITH_KNOTS(${title},${base},${ends})`);
  return add(
    `(BOUNDED_SURFACE()B_SPLINE_SURFACE(${base})B_SPLINE_SURFACE_WITH_KNOTS(${ends})GEOMETRIC_REPRESENTATION_ITEM()` +
      `RATIONAL_B_SPLINE_SURFACE(${byU((k) => stepReal(weights[k]))})REPRESENTATION_ITEM(${title})SURFACE())`,
  );
}
