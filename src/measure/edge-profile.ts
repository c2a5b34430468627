import { lengthAtParameter, parameterAtLength } from '../fit/outline-arc-table.ts';
import { outlineFoot } from '../fit/outline-foot.ts';
import type { CarriedSection } from '../section/carry-points.ts';
import { contourAt, contourPoint } from './contour.ts';
import type { EdgeName } from './definitions/definition.ts';
import { outlineLengths } from './edge-setback.ts';
import type { SectionContext } from './section-context.ts';
import { type SectionFit, solveMotion } from './twist-fit.ts';

/** The measured points of an edge zone. */
export interface EdgeZonePoints {
  edge: EdgeName;
  /** Set-back to either side of the nominal edge point (mm along the outline) and number of equal runs it is cut into. */
  setback: number;
  runs: number;
  /** x0, y0, … (mm), with the run each point falls in, which stays when the zone is fitted. */
  points: Float64Array;
  run: Int32Array;
  counts: Int32Array;
  /** Nominal edge point (mm). */
  edgeX: number;
  edgeY: number;
}

/** Deviations of the runs of an edge zone. */
export interface ZoneRuns {
  /** Mean deviation of each run (mm), NaN where it has no points. */
  mean: Float64Array;
  /** Least and largest deviation of single points (mm). */
  rawLeast: number;
  rawMost: number;
}

const place = contourPoint();

/** Returns the points of an edge zone of the nominal, cut into runs of about the asked length. */
export function edgeZonePoints(
  nominal: SectionContext,
  carried: CarriedSection,
  edge: EdgeName,
  setback: number,
  runLength: number,
): EdgeZonePoints {
  const { outline, edges } = nominal.section;
  const { table, trailing } = outlineLengths(nominal);
  // An odd number, so that the nose lies in the middle of a run.
  const runs = 2 * Math.max(1, Math.round(setback / runLength - 0.5)) + 1;
  contourAt(outline, edges[edge], place);
  const [edgeX, edgeY] = [place.x, place.y];
  const points: number[] = [];
  const run: number[] = [];
  const counts = new Int32Array(runs);
  for (let i = 0; i < carried.u.length; i++) {
    const x = carried.points[2 * i];
    const y = carried.points[2 * i + 1];
    if (Math.hypot(x - edgeX, y - edgeY) > setback + Math.abs(carried.deviation[i])) continue;
    const length = lengthAtParameter(table, outlineFoot(outline, x, y).t);
    const from =
      edge === 'trailing' ? length - trailing : length > 0.5 * table.perimeter ? length - table.perimeter : length;
    const k = Math.floor(((from + setback) / (2 * setback)) * runs);
    if (k < 0 || k >= runs) continue;
    points.push(x, y);
    run.push(k);
    counts[k]++;
  }
  return { edge, setback, runs, points: Float64Array.from(points), run: Int32Array.from(run), counts, edgeX, edgeY };
}

/** Returns the mean deviations of the runs, the zone first moved back by a fit where one is given. */
export function zoneRuns(nominal: SectionContext, zone: EdgeZonePoints, fit: SectionFit | null): ZoneRuns {
  const { outline } = nominal.section;
  const mean = new Float64Array(zone.runs);
  let rawLeast = Number.POSITIVE_INFINITY;
  let rawMost = Number.NEGATIVE_INFINITY;
  const c = fit ? Math.cos(fit.twist) : 1;
  const s = fit ? Math.sin(fit.twist) : 0;
  for (let i = 0; i < zone.run.length; i++) {
    const gx = zone.points[2 * i] - zone.edgeX - (fit?.dx ?? 0);
    const gy = zone.points[2 * i + 1] - zone.edgeY - (fit?.dy ?? 0);
    const { distance } = outlineFoot(outline, zone.edgeX + c * gx + s * gy, zone.edgeY + c * gy - s * gx);
    mean[zone.run[i]] += distance / zone.counts[zone.run[i]];
    rawLeast = Math.min(rawLeast, distance);
    rawMost = Math.max(rawMost, distance);
  }
  return { mean: mean.map((d, k) => (zone.counts[k] > 0 ? d : Number.NaN)), rawLeast, rawMost };
}

/**
 * Returns the motion of least squares of an edge zone against the nominal, every run with the same weight: a shift, and a
 * turn about the nominal edge point where allowed. Null when the zone does not hold it.
 */
export function fitEdgeZone(nominal: SectionContext, zone: EdgeZonePoints, turn: boolean): SectionFit | null {
  const weights = Float64Array.from(zone.run, (k) => 1 / zone.counts[k]);
  const given = {
    points: zone.points,
    weights,
    counts: new Float64Array(zone.run.length).fill(1),
    within: 0,
    independent: true,
  };
  const start = turn ? [0, 0, 0] : [0, 0];
  return solveMotion(nominal.section.outline, given, [zone.edgeX, zone.edgeY], start);
}

/**
 * Returns how small motions of a zone change the deviation of each run: rows of the normal at its middle, and where it may
 * turn the lever about the nominal edge point; null for a run without points.
 */
export function motionRows(nominal: SectionContext, zone: EdgeZonePoints, turn: boolean): (number[] | null)[] {
  const { table, trailing } = outlineLengths(nominal);
  const start = zone.edge === 'trailing' ? trailing : table.perimeter;
  return Array.from({ length: zone.runs }, (_, k) => {
    if (zone.counts[k] === 0) return null;
    const length = start + zone.setback * ((2 * k + 1) / zone.runs - 1);
    contourAt(nominal.section.outline, parameterAtLength(table, length % table.perimeter), place);
    const [nx, ny] = [place.ty, -place.tx];
    return [nx, ny, (place.x - zone.edgeX) * ny - (place.y - zone.edgeY) * nx].slice(0, turn ? 3 : 2);
  });
}
