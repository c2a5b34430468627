import { fitOutline } from '../../src/fit/fit-outline.ts';
import { findSectionEdges } from '../../src/fit/section-edges.ts';
import { measureBy } from '../../src/measure/definitions/definitions.ts';
import { MEASURE_DEFAULTS } from '../../src/measure/measure-options.ts';
import { measuresOf } from '../../src/measure/measure-section.ts';
import { type SectionContext, sectionContext } from '../../src/measure/section-context.ts';
import { fitSection } from '../../src/measure/twist-fit.ts';
import type { FittedOutline } from '../../src/model/outline.ts';
import type { Parameters, Value } from '../../src/model/value.ts';
import { REFERENCE_SECTIONS, type ReferenceName, sectionPoints } from '../support/reference-sections.ts';
import { type RowErrors, type RowStatistics, statisticsOfRows } from './row-statistics.ts';

/** Statistics of the measures of noisy random points, against the same section without noise. */

/** Measured value and standard uncertainty of one row, in its own unit (um, 0.001 deg, 1e-3 of chord, 1e-3 mm2). */
export interface Reading {
  value: number;
  u: number | null;
}

export const POINTS = { edge: 400, flank: 600 };
export const NOISES = [0.003, 0.005, 0.01];
const OPTIONS = { ...MEASURE_DEFAULTS, fractionsAlong: 'chord' as const, setbacks: [1, 2] };
/** a : b of the elliptic edges, where it is taken for known. */
const RATIOS = { leading: 3, trailing: 2 };

/** Readings of the rows of a section, those that were measured. */
export function readingsOf(context: SectionContext, name: ReferenceName): Map<string, Reading> {
  const measures = measuresOf(context);
  const rows = new Map<string, Reading>();
  const add = (row: string, value: Value, scale: number) => {
    if (value.value !== null)
      rows.set(row, { value: value.value * scale, u: value.u === null ? null : value.u * scale });
  };
  add('chord.max', measures.chordFar, 1000);
  add('chord.bitangent', measures.chordBitangent, 1000);
  add('chord.camber', measures.chordCamber, 1000);
  add('stagger_deg.max', measures.staggerFarDeg, 1000);
  add('stagger_deg.bitangent', measures.staggerBitangentDeg, 1000);
  add('stagger_deg.camber', measures.staggerCamberDeg, 1000);
  add('max_thickness', measures.thicknessMax, 1000);
  if (measures.thicknessPlace) add('max_thickness_pos.max', measures.thicknessPlace, 1000);
  for (const at of measures.thicknessAt) add(`thickness_inscribed.${at.fraction}`, at, 1000);
  add('camber_angle_deg', measures.camberAngleDeg, 1000);
  add('area', measures.area, 1000);
  add('centroid_x', measures.centroidX, 1000);
  add('centroid_y', measures.centroidY, 1000);
  for (const [edge, which, of] of [
    ['le', 'leading', measures.leadingEdge],
    ['te', 'trailing', measures.trailingEdge],
  ] as const) {
    const by = (quantity: 'edge-radius' | 'edge-ellipse', id: string, parameters?: Parameters) =>
      measureBy({ context, edge: which, flank: null, at: null, against: null }, quantity, id, parameters);
    for (const at of of.thicknessAt) add(`${edge}_thickness_${at.setback}mm`, at, 1000);
    add(`${edge}_radius_60deg`, of.radiusFit, 1000);
    if (name !== 'elliptic') add(`${edge}_radius`, by('edge-radius', 'R-ARC'), 1000);
    else {
      add(`${edge}_semi_minor_fixed_ratio`, by('edge-ellipse', 'E-B', { ratio: RATIOS[which] }), 1000);
      add(`${edge}_semi_minor_free`, of.ellipseB, 1000);
      add(`${edge}_semi_major_free`, of.ellipseA, 1000);
    }
  }
  return rows;
}

/** The fit of points and what is measured on it. */
export function contextOf(fitted: FittedOutline): SectionContext {
  const edges = findSectionEdges(fitted.outline);
  return sectionContext({ outline: fitted.outline, edges, fitted }, OPTIONS);
}

/** A section without noise, from a dense exact outline. */
export interface ExactSection {
  context: SectionContext;
  rows: Map<string, Reading>;
}

const known = new Map<ReferenceName, ExactSection>();

/** Returns the exact section and its rows, found once. */
export function exactSection(name: ReferenceName): ExactSection {
  let found = known.get(name);
  if (!found) {
    const points = sectionPoints(REFERENCE_SECTIONS[name], { edge: 800, flank: 1600 }, 0, 1);
    const context = contextOf(fitOutline(points, { corners: [] }));
    const rows = readingsOf(context, name);
    for (const row of MOTION_ROWS) rows.set(row, { value: 0, u: null });
    found = { context, rows };
    known.set(name, found);
  }
  return found;
}

/** The rows without noise. */
export function truths(name: ReferenceName): Map<string, Reading> {
  return exactSection(name).rows;
}

/** Point about which the motion rows turn. */
export function pivotOf(name: ReferenceName): [number, number] {
  const { area } = exactSection(name).context;
  return [area.centroidX, area.centroidY];
}

const MOTION_ROWS = ['motion_x', 'motion_y', 'motion_turn_deg'];

/** Readings of points of a section: the rows of their fit, and their rigid motion against the exact outline. */
export function readingsOfPoints(points: Float64Array, name: ReferenceName): Map<string, Reading> {
  const rows = readingsOf(contextOf(fitOutline(points, { corners: [] })), name);
  const fit = fitSection(exactSection(name).context.section.outline, null, points, pivotOf(name));
  if (!fit) return rows;
  const mdeg = (angle: number | null) => (angle === null ? null : (angle * 180_000) / Math.PI);
  const um = (length: number | null) => (length === null ? null : 1000 * length);
  rows.set('motion_x', { value: 1000 * fit.dx, u: um(fit.uDx) });
  rows.set('motion_y', { value: 1000 * fit.dy, u: um(fit.uDy) });
  rows.set('motion_turn_deg', { value: mdeg(fit.twist) as number, u: mdeg(fit.uTwist) });
  return rows;
}

/** A stretch of seeds of one section and noise. */
export interface SeedTask {
  name: ReferenceName;
  noise: number;
  from: number;
  count: number;
}

/** Errors of every row over seeds from … from + count − 1. */
export function sectionErrors({ name, noise, from, count }: SeedTask): RowErrors {
  const truth = truths(name);
  const errors: RowErrors = new Map();
  for (let seed = from; seed < from + count; seed++) {
    const points = sectionPoints(REFERENCE_SECTIONS[name], POINTS, noise, seed);
    for (const [row, { value, u }] of readingsOfPoints(points, name)) {
      const right = truth.get(row);
      if (!right) continue;
      const list = errors.get(row) ?? [];
      list.push({ error: value - right.value, u });
      errors.set(row, list);
    }
  }
  return errors;
}

/** Statistics of every row over seeds from … from + count − 1. */
export function sectionStatistics(
  name: ReferenceName,
  noise: number,
  from: number,
  count: number,
): Map<string, RowStatistics> {
  return statisticsOfRows(sectionErrors({ name, noise, from, count }));
}
