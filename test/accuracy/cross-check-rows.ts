import { fitCircle } from '../../src/math/circle-fit.ts';
import { fitNoseConic } from '../../src/math/ellipse-fit.ts';
import { measuresOf } from '../../src/measure/measure-section.ts';
import type { SectionContext } from '../../src/measure/section-context.ts';
import type { Value } from '../../src/model/value.ts';
import { REFERENCE_SECTIONS, type ReferenceName } from '../support/reference-sections.ts';
import {
  farthestPair,
  likeliestCircle,
  likeliestEllipse,
  type Polyline,
  polygonLimit,
  polylineOf,
  restingLine,
  widestCircle,
} from './cross-check.ts';
import { POINTS } from './section-statistics.ts';

/** One quantity by the measure and by another method, and how far apart they may be, in one unit (mm, mm², degrees). */
export interface CrossCheck {
  row: string;
  measured: number;
  otherwise: number;
  tolerance: number;
}

/** Steps of the polylines turn by about 0.1°: their vertices miss an extreme by 1e-6 of a radius or so. */
const LENGTH = 2e-6;
const ANGLE = 1e-7;
const LIMIT = 1e-10;
/**
 * What rests on the edges of noisy points is measured on the circle or ellipse found there, and otherwise on the outline:
 * they may be apart by so many standard uncertainties of the outline at both noses.
 */
const AT_NOSES = 3;
const RAD = Math.PI / 180;

/** Returns what of a section can be found by another method. */
export function crossChecks(context: SectionContext): CrossCheck[] {
  const { outline } = context.section;
  const measures = measuresOf(context);
  const line = polylineOf(outline);
  const towards = (measures.staggerFarDeg.value ?? Number.NaN) * RAD;
  const resting = restingLine(line, towards);
  const limit = polygonLimit(outline);
  const { area, perimeter, x, y } = limit;
  const { noise, far } = context;
  const noses = noise ? AT_NOSES * Math.hypot(noise.at(far.leadingT), noise.at(far.trailingT)) : 0;
  const rows: [string, Value, number, number][] = [
    ['chord CH-FAR', measures.chordFar, farthestPair(line), LENGTH + noses],
    ['chord CH-BT', measures.chordBitangent, resting.length, LENGTH + noses],
    ['stagger CH-BT, deg', measures.staggerBitangentDeg, resting.angle / RAD, (ANGLE + noses / far.length) / RAD],
    ['largest thickness', measures.thicknessMax, widestCircle(line, towards), LENGTH],
    ['area', measures.area, area, LIMIT * area],
    ['perimeter', measures.perimeter, perimeter, LIMIT * perimeter],
    ['centroid X', measures.centroidX, x, LIMIT * perimeter],
    ['centroid Y', measures.centroidY, y, LIMIT * perimeter],
  ];
  return rows.map(([row, { value }, otherwise, tolerance]) => ({
    row,
    measured: value ?? Number.NaN,
    otherwise,
    tolerance,
  }));
}

/** Returns the fits through the points of the leading edge, circle or ellipse of known axis and ratio. */
export function edgeChecks(points: Float64Array, name: ReferenceName): CrossCheck {
  const { form } = REFERENCE_SECTIONS[name];
  const edge: Polyline = {
    x: Float64Array.from({ length: POINTS.edge }, (_, i) => points[2 * i]),
    y: Float64Array.from({ length: POINTS.edge }, (_, i) => points[2 * i + 1]),
  };
  if (form.ratio === 1) {
    const measured = fitCircle(edge.x, edge.y)?.radius ?? Number.NaN;
    return { row: 'circle of the leading edge', measured, otherwise: likeliestCircle(edge), tolerance: 1e-7 };
  }
  const [axisX, axisY] = [Math.cos(form.turning / 2), Math.sin(form.turning / 2)];
  const conic = fitNoseConic(edge.x, edge.y, undefined, axisX, axisY, 1 / (form.ratio * form.ratio));
  return {
    row: 'b of the leading edge',
    measured: conic ? conic.radius * form.ratio : Number.NaN,
    otherwise: likeliestEllipse(edge, axisX, axisY, form.ratio),
    tolerance: 1e-6,
  };
}
