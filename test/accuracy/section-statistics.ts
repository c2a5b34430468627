import { fitOutline } from '../../src/fit/fit-outline.ts';
import { findSectionEdges } from '../../src/fit/section-edges.ts';
import { measureBy } from '../../src/measure/definitions/definitions.ts';
import { MEASURE_DEFAULTS } from '../../src/measure/measure-options.ts';
import { measuresOf } from '../../src/measure/measure-section.ts';
import { type SectionContext, sectionContext } from '../../src/measure/section-context.ts';
import type { FittedOutline } from '../../src/model/outline.ts';
import type { Parameters, Value } from '../../src/model/value.ts';
import { REFERENCE_SECTIONS, type ReferenceName, sectionPoints } from '../support/reference-sections.ts';

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
  if (measures.thicknessMax.at !== null)
    rows.set('max_thickness_pos.max', { value: measures.thicknessMax.at * 1000, u: null });
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

/** The rows without noise, from a dense exact outline. */
export function truths(name: ReferenceName): Map<string, Reading> {
  const points = sectionPoints(REFERENCE_SECTIONS[name], { edge: 800, flank: 1600 }, 0, 1);
  return readingsOf(contextOf(fitOutline(points, { corners: [] })), name);
}

export interface RowStatistics {
  median: number;
  p95: number;
  bias: number;
  spread: number;
  /** Share of seeds whose interval value ± 2 u holds the truth, null without u. */
  covered: number | null;
  /** Root mean square of (value − truth) / u. */
  z: number | null;
  count: number;
}

/** Statistics of every row over seeds from … from + count − 1. */
export function sectionStatistics(
  name: ReferenceName,
  noise: number,
  from: number,
  count: number,
): Map<string, RowStatistics> {
  const truth = truths(name);
  const errors = new Map<string, { error: number; u: number | null }[]>();
  for (let seed = from; seed < from + count; seed++) {
    const points = sectionPoints(REFERENCE_SECTIONS[name], POINTS, noise, seed);
    for (const [row, { value, u }] of readingsOf(contextOf(fitOutline(points, { corners: [] })), name)) {
      const list = errors.get(row) ?? [];
      list.push({ error: value - truth.get(row)!.value, u });
      errors.set(row, list);
    }
  }
  return new Map([...errors].map(([row, list]) => [row, statisticsOf(list)]));
}

/** Returns the statistics of errors with their stated uncertainties. */
export function statisticsOf(list: { error: number; u: number | null }[]): RowStatistics {
  const count = list.length;
  const sizes = list.map(({ error }) => Math.abs(error)).sort((a, b) => a - b);
  const at = (share: number) => {
    const place = share * (count - 1);
    const low = Math.floor(place);
    return sizes[low] + (place - low) * ((sizes[low + 1] ?? sizes[low]) - sizes[low]);
  };
  const bias = list.reduce((sum, { error }) => sum + error, 0) / count;
  const spread = Math.sqrt(list.reduce((sum, { error }) => sum + (error - bias) ** 2, 0) / Math.max(1, count - 1));
  const known = list.filter(({ u }) => u !== null && u > 0) as { error: number; u: number }[];
  const covered = known.filter(({ error, u }) => Math.abs(error) <= 2 * u).length;
  const squares = known.reduce((sum, { error, u }) => sum + (error / u) ** 2, 0);
  return {
    median: at(0.5),
    p95: at(0.95),
    bias,
    spread,
    covered: known.length > 0 ? covered / known.length : null,
    z: known.length > 0 ? Math.sqrt(squares / known.length) : null,
    count,
  };
}
