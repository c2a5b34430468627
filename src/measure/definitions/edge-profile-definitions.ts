import { parameterAtLength } from '../../fit/outline-arc-table.ts';
import { outlineFoot } from '../../fit/outline-foot.ts';
import { measured, type Parameters, unmeasured, type Value } from '../../model/value.ts';
import { contourAt, contourPoint, parameterFrom } from '../contour.ts';
import {
  type EdgeZonePoints,
  edgeZonePoints,
  fitEdgeZone,
  motionRows,
  type ZoneRuns,
  zoneRuns,
} from '../edge-profile.ts';
import { edgeSetback, outlineLengths, SETBACK } from '../edge-setback.ts';
import { leastSquaresMotion, minimaxMotion } from '../linear-motion.ts';
import { type NoiseEffect, noiseEffect } from '../noise-effect.ts';
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
const CRITERION: ParameterSpec = {
  name: 'criterion',
  label: 'Fit of the zone',
  choices: ['least squares', 'minimax'],
  default: 'least squares',
};
const DEG = 180 / Math.PI;

/** How an edge zone is fitted for itself. */
interface Local {
  turn: boolean;
  minimax: boolean;
}

function edgeProfile(id: string, place: MeasuringPlace, parameters: Parameters, local: Local | null): Value {
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
  const fit = local ? fitEdgeZone(nominal, zone, local.turn) : null;
  if (local && !fit?.converged) return none('not-converged', 'The fit of the edge zone did not settle.');
  const runs = zoneRuns(nominal, zone, fit);
  const rows = local ? motionRows(nominal, zone, local.turn) : [];
  const further = local?.minimax ? minimaxMotion(rows, runs.mean) : null;
  const left = further?.left ?? runs.mean;
  const raw = zoneValue(left);
  const noise = noiseOf(context, zone, raw, (added) => {
    if (!local) return zoneValue(left.map((d, k) => d + added[k]));
    if (local.minimax)
      return zoneValue(
        minimaxMotion(
          rows,
          left.map((d, k) => d + added[k]),
        )?.left ?? left,
      );
    const kept = leastSquaresMotion(rows, added)?.left ?? added;
    return zoneValue(left.map((d, k) => d + kept[k]));
  });
  const motion = fit ? motionEvidence(nominal, zone, fit, further?.motion ?? []) : {};
  const evidence = { ...zoneEvidence(zone, left, runs), ...motion, raw, ...(noise ? { bias: noise.bias } : {}) };
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
  zone: EdgeZonePoints,
  raw: number,
  value: (added: Float64Array) => number,
): NoiseEffect | null {
  const sigma = context.noise?.sigma;
  if (sigma === undefined) return null;
  return noiseEffect(raw, (normal) =>
    value(Float64Array.from(zone.counts, (count) => (count > 0 ? (sigma * normal()) / Math.sqrt(count) : 0))),
  );
}

function zoneEvidence(zone: EdgeZonePoints, left: Float64Array, runs: ZoneRuns): Record<string, number> {
  const means = left.filter((d) => !Number.isNaN(d));
  return {
    setback: zone.setback,
    least: Math.min(...means),
    most: Math.max(...means),
    rawLeast: runs.rawLeast,
    rawMost: runs.rawMost,
    points: zone.run.length,
    runs: means.length,
    runLength: (2 * zone.setback) / zone.runs,
  };
}

/** Shift outward along the extended line of centres and across it towards the suction side (mm), and turn (degrees). */
function motionEvidence(
  nominal: SectionContext,
  zone: EdgeZonePoints,
  fit: SectionFit,
  [moreX = 0, moreY = 0, moreTurn = 0]: ArrayLike<number> & Iterable<number>,
): Record<string, number> {
  const turnDeg = (fit.twist + moreTurn) * DEG;
  const direction = nominal[zone.edge];
  if (!direction) return { turnDeg };
  const [x, y] = [fit.dx + moreX, fit.dy + moreY];
  const left = nominal.section.edges.firstSide === (zone.edge === 'leading' ? 'suction' : 'pressure') ? 1 : -1;
  return {
    shiftAlong: x * direction.outX + y * direction.outY,
    shiftAcross: left * (y * direction.outX - x * direction.outY),
    turnDeg,
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
    measure: (place, parameters) => edgeProfile('PROFILE-DATUM', place, parameters, null),
  },
  {
    id: 'PROFILE-LOCAL',
    quantity: 'edge-profile',
    name: 'Form of the edge, fitted for itself',
    meaning:
      'Twice the largest deviation of the edge zone after it alone is fitted to the nominal, by a shift and where chosen ' +
      'a turn, with least squares or the smallest largest deviation: form without position. Shift and turn are listed apart.',
    unit: 'mm',
    parameters: [SETBACK, RUN, ROTATION, CRITERION],
    measure: (place, parameters) =>
      edgeProfile('PROFILE-LOCAL', place, parameters, {
        turn: parameters.rotation === 'yes',
        minimax: parameters.criterion === 'minimax',
      }),
  },
];
