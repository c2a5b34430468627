import { lengthAtParameter, parameterAtLength } from '../fit/outline-arc-table.ts';
import { outlineFeet } from '../fit/outline-foot.ts';
import { planeLength } from '../math/plane-length.ts';
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
  /** Feet of the points on the nominal outline and their distances from it (mm), before the zone is fitted. */
  feet: Float64Array;
  distances: Float64Array;
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

interface KnownZone {
  nominal: SectionContext;
  zone: EdgeZonePoints;
}
const known = new WeakMap<CarriedSection, Partial<Record<EdgeName, KnownZone>>>();

/**
 * Returns the points of an edge zone of the nominal, cut into runs of about the asked length. The last zone of an edge is
 * kept while its points live.
 */
export function edgeZonePoints(
  nominal: SectionContext,
  carried: CarriedSection,
  edge: EdgeName,
  setback: number,
  runLength: number,
): EdgeZonePoints {
  // An odd number, so that the nose lies in the middle of a run.
  const runs = 2 * Math.max(1, Math.round(setback / runLength - 0.5)) + 1;
  const kept = known.get(carried) ?? {};
  const last = kept[edge];
  if (last?.nominal === nominal && last.zone.setback === setback && last.zone.runs === runs) return last.zone;
  const zone = zoneOf(nominal, carried, edge, setback, runs);
  known.set(carried, { ...kept, [edge]: { nominal, zone } });
  return zone;
}

function zoneOf(
  nominal: SectionContext,
  carried: CarriedSection,
  edge: EdgeName,
  setback: number,
  runs: number,
): EdgeZonePoints {
  const { outline, edges } = nominal.section;
  const { table, trailing } = outlineLengths(nominal);
  contourAt(outline, edges[edge], place);
  const [edgeX, edgeY] = [place.x, place.y];
  const near = new Float64Array(carried.points.length);
  let count = 0;
  for (let i = 0; i < carried.u.length; i++) {
    const x = carried.points[2 * i];
    const y = carried.points[2 * i + 1];
    if (planeLength(x - edgeX, y - edgeY) > setback + Math.abs(carried.deviation[i])) continue;
    near[2 * count] = x;
    near[2 * count++ + 1] = y;
  }
  const feet = new Float64Array(count);
  const distances = new Float64Array(count);
  outlineFeet(outline, near.subarray(0, 2 * count), null, feet, distances);
  const run = new Int32Array(count);
  const counts = new Int32Array(runs);
  let kept = 0;
  for (let i = 0; i < count; i++) {
    const length = lengthAtParameter(table, feet[i]);
    const from =
      edge === 'trailing' ? length - trailing : length > 0.5 * table.perimeter ? length - table.perimeter : length;
    const k = Math.floor(((from + setback) / (2 * setback)) * runs);
    if (k < 0 || k >= runs) continue;
    near[2 * kept] = near[2 * i];
    near[2 * kept + 1] = near[2 * i + 1];
    feet[kept] = feet[i];
    distances[kept] = distances[i];
    run[kept++] = k;
    counts[k]++;
  }
  return {
    edge,
    setback,
    runs,
    points: near.slice(0, 2 * kept),
    run: run.slice(0, kept),
    counts,
    feet: feet.slice(0, kept),
    distances: distances.slice(0, kept),
    edgeX,
    edgeY,
  };
}

/** Returns the mean deviations of the runs, the zone first moved back by a fit where one is given. */
export function zoneRuns(nominal: SectionContext, zone: EdgeZonePoints, fit: SectionFit | null): ZoneRuns {
  const mean = new Float64Array(zone.runs);
  let rawLeast = Number.POSITIVE_INFINITY;
  let rawMost = Number.NEGATIVE_INFINITY;
  const distances = fit ? movedBack(nominal, zone, fit) : zone.distances;
  for (let i = 0; i < zone.run.length; i++) {
    const distance = distances[i];
    mean[zone.run[i]] += distance / zone.counts[zone.run[i]];
    rawLeast = Math.min(rawLeast, distance);
    rawMost = Math.max(rawMost, distance);
  }
  return { mean: mean.map((d, k) => (zone.counts[k] > 0 ? d : Number.NaN)), rawLeast, rawMost };
}

/** Distances of a zone's points (mm) from the nominal once a fitted motion has been taken off. */
function movedBack(nominal: SectionContext, zone: EdgeZonePoints, fit: SectionFit): Float64Array {
  const { points, edgeX, edgeY } = zone;
  const count = zone.run.length;
  const c = Math.cos(fit.twist);
  const s = Math.sin(fit.twist);
  const moved = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    const gx = points[2 * i] - edgeX - fit.dx;
    const gy = points[2 * i + 1] - edgeY - fit.dy;
    moved[2 * i] = edgeX + c * gx + s * gy;
    moved[2 * i + 1] = edgeY + c * gy - s * gx;
  }
  const distances = new Float64Array(count);
  outlineFeet(nominal.section.outline, moved, null, new Float64Array(count), distances);
  return distances;
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
    feet: zone.feet,
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
