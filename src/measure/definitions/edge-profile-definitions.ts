import { parameterAtLength } from '../../fit/outline-arc-table.ts';
import { outlineFoot } from '../../fit/outline-foot.ts';
import { measured, type Parameters, unmeasured, type Value } from '../../model/value.ts';
import { contourAt, contourPoint, parameterFrom } from '../contour.ts';
import {
  type EdgeZonePoints,
  edgeZonePoints,
  fitEdgeZone,
  withoutMotion,
  type ZoneRuns,
  zoneRuns,
} from '../edge-profile.ts';
import { edgeSetback, outlineLengths, SETBACK } from '../edge-setback.ts';
import { noiseEffect } from '../noise-effect.ts';
import { lacking, type SectionContext } from '../section-context.ts';
import type { SectionFit } from '../twist-fit.ts';
import type { Definition, MeasuringPlace, ParameterSpec } from './definition.ts';

const RUN: ParameterSpec = {
  name: 'run',
  label: 'Length of outline a value is averaged over',
  unit: 'mm',
  default: 0.1,
  least: 0.005,
  most: 10,
};
const ROTATION: ParameterSpec = { name: 'rotation', label: 'Turn of the zone', choices: ['no', 'yes'], default: 'no' };
const DEG = 180 / Math.PI;

type Local = 'none' | 'shift' | 'shift and turn';

function edgeProfile(id: string, place: MeasuringPlace, parameters: Parameters, local: Local): Value {
  const { context, edge, against } = place;
  const none = (status: 'not-measured' | 'not-applicable' | 'not-converged', reason: string) =>
    unmeasured(status, reason, 'mm', id, { parameters });
  if (!against || !edge) return none('not-applicable', 'An edge’s profile is measured against the nominal of an edge.');
  const { nominal, carried } = against;
  const setback = edgeSetback(nominal, edge, Number(parameters.setback));
  if (setback > 0.5 * nominal.far.length) return none('not-applicable', 'The edge zone is longer than half the chord.');
  const missing = lacking(context, [[...zoneEnds(nominal, context, edge, setback), `the ${edge} edge`]], 'mm', id);
  if (missing) return { ...missing, parameters };
  const zone = edgeZonePoints(nominal, carried, edge, setback, Number(parameters.run));
  if (zone.run.length < 8) return none('not-measured', `Only ${zone.run.length} points lie at the ${edge} edge.`);
  const turn = local === 'shift and turn';
  const fit = local === 'none' ? null : fitEdgeZone(nominal, zone, turn);
  if (local !== 'none' && !fit?.converged) return none('not-converged', 'The fit of the edge zone did not settle.');
  const runs = zoneRuns(nominal, zone, fit);
  const raw = zoneValue(runs.mean);
  const noise = noiseOf(context, nominal, zone, runs.mean, local, raw);
  const evidence = { ...zoneEvidence(nominal, zone, runs, fit), setback, raw, ...(noise ? { bias: noise.bias } : {}) };
  const value = Math.max(0, raw - (noise?.bias ?? 0));
  return measured(value, noise ? noise.u : null, 'mm', id, { parameters, evidence });
}

/** Zone of equal limits about the nominal that holds all: twice the largest deviation. */
function zoneValue(mean: Float64Array): number {
  let most = 0;
  for (const d of mean) if (Math.abs(d) > most) most = Math.abs(d);
  return 2 * most;
}

function noiseOf(
  context: SectionContext,
  nominal: SectionContext,
  zone: EdgeZonePoints,
  mean: Float64Array,
  local: Local,
  raw: number,
) {
  const sigma = context.noise?.sigma;
  if (sigma === undefined) return null;
  const kept = local === 'none' ? null : withoutMotion(nominal, zone, local === 'shift and turn');
  return noiseEffect(raw, (normal) => {
    const added = mean.map((_, k) => (zone.counts[k] > 0 ? (sigma * normal()) / Math.sqrt(zone.counts[k]) : 0));
    const left = kept ? kept(added) : added;
    return zoneValue(mean.map((d, k) => d + left[k]));
  });
}

function zoneEvidence(
  nominal: SectionContext,
  zone: EdgeZonePoints,
  runs: ZoneRuns,
  fit: SectionFit | null,
): Record<string, number> {
  const means = runs.mean.filter((d) => !Number.isNaN(d));
  const motion: Record<string, number> = {};
  const direction = nominal[zone.edge];
  if (fit && direction) {
    // Outward along the extended line of centres, and across it towards the suction side.
    const left = nominal.section.edges.firstSide === (zone.edge === 'leading' ? 'suction' : 'pressure') ? 1 : -1;
    motion.shiftAlong = fit.dx * direction.outX + fit.dy * direction.outY;
    motion.shiftAcross = left * (fit.dy * direction.outX - fit.dx * direction.outY);
    motion.turnDeg = fit.twist * DEG;
  }
  return {
    least: Math.min(...means),
    most: Math.max(...means),
    rawLeast: runs.rawLeast,
    rawMost: runs.rawMost,
    points: zone.run.length,
    runs: means.length,
    runLength: (2 * zone.setback) / zone.runs,
    ...motion,
  };
}

/** Parameters of the measured outline next to the ends of the nominal's edge zone, rising. */
function zoneEnds(
  nominal: SectionContext,
  context: SectionContext,
  edge: 'leading' | 'trailing',
  setback: number,
): [number, number] {
  const { table, trailing } = outlineLengths(nominal);
  const middle = edge === 'leading' ? table.perimeter : trailing;
  const place = contourPoint();
  const { outline } = context.section;
  const [from, to] = [middle - setback, middle + setback].map((length) => {
    contourAt(nominal.section.outline, parameterAtLength(table, length % table.perimeter), place);
    return outlineFoot(outline, place.x, place.y).t;
  });
  return [from, parameterFrom(outline, from, to)];
}

export const edgeProfileDefinitions: readonly Definition[] = [
  {
    id: 'PROFILE-DATUM',
    quantity: 'edge-profile',
    name: 'Profile of the edge as placed',
    meaning:
      'Twice the largest deviation of the edge zone from the nominal, in the placement in force: form and position ' +
      'together. Values are means over short runs; what noise adds to the largest is taken off, single points are listed apart.',
    unit: 'mm',
    parameters: [SETBACK, RUN],
    measure: (place, parameters) => edgeProfile('PROFILE-DATUM', place, parameters, 'none'),
  },
  {
    id: 'PROFILE-LOCAL',
    quantity: 'edge-profile',
    name: 'Form of the edge, fitted for itself',
    meaning:
      'Twice the largest deviation of the edge zone after it alone is fitted to the nominal with least squares, by a ' +
      'shift and where chosen a turn: form without position. The shift and the turn are listed apart.',
    unit: 'mm',
    parameters: [SETBACK, RUN, ROTATION],
    measure: (place, parameters) =>
      edgeProfile('PROFILE-LOCAL', place, parameters, parameters.rotation === 'yes' ? 'shift and turn' : 'shift'),
  },
];
