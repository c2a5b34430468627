import { lowerBound } from '../math/lower-bound.ts';
import { flatCut, HARMONICS, harmonics, tableAt } from './flats-cut.ts';
import { type EdgePatch, type EdgeStation, stationNear } from './flats-edge.ts';
import type { FlatRun } from './flats-scan.ts';

/** A stretch of an edge with the smooth form its points may have: harmonics that change along the span by a quadratic. */
export interface EdgeBlock {
  station: EdgeStation;
  /** Points of the patch. */
  points: Uint32Array;
  height: Float64Array;
  /** Orthonormal columns of the smooth form over the points, and what it leaves of the deviations. */
  columns: Float64Array[];
  residual: Float64Array;
}

/** Length of the longest block (mm). */
const LONGEST = 9;
const POWERS = 3;

/** Returns the blocks of equal length of an edge between two heights. @param kept false for points that take no part */
export function edgeBlocks(
  patch: EdgePatch,
  from: number,
  to: number,
  kept: (point: number) => boolean = () => true,
): EdgeBlock[] {
  const count = Math.max(1, Math.ceil((to - from) / LONGEST));
  const long = (to - from) / count;
  return Array.from({ length: count }, (_, b) => blockOf(patch, from + b * long, from + (b + 1) * long, kept));
}

function blockOf(patch: EdgePatch, from: number, to: number, kept: (point: number) => boolean): EdgeBlock {
  const points: number[] = [];
  for (let i = lowerBound(patch.height, from); i < patch.height.length && patch.height[i] < to; i++)
    if (kept(i)) points.push(i);
  const wave = new Float64Array(HARMONICS);
  const asked = Array.from({ length: HARMONICS * POWERS }, () => new Float64Array(points.length));
  for (const [k, i] of points.entries()) {
    harmonics(patch.angle[i], wave);
    const z = (2 * patch.height[i] - from - to) / (to - from);
    for (let a = 0; a < HARMONICS; a++) for (let p = 0; p < POWERS; p++) asked[a + p * HARMONICS][k] = wave[a] * z ** p;
  }
  const columns: Float64Array[] = [];
  for (const column of asked) {
    const rest = left(columns, left(columns, column));
    const length = Math.sqrt(dot(rest, rest));
    if (length > 1e-5 * Math.sqrt(dot(column, column))) columns.push(rest.map((v) => v / length));
  }
  const deviation = Float64Array.from(points, (i) => patch.deviation[i]);
  return {
    station: stationNear(patch, 0.5 * (from + to)),
    points: Uint32Array.from(points),
    height: Float64Array.from(points, (i) => patch.height[i]),
    columns,
    residual: left(columns, deviation),
  };
}

/** Departures that a form adds within a stretch of heights, by block; null where it adds none. */
export type BlockForm = (block: EdgeBlock) => Float64Array | null;

/** A flat as departures of the blocks' points between two heights. */
export function flatForm(patch: EdgePatch, { centre, sagitta, from, to }: Omit<FlatRun, 'gain'>): BlockForm {
  return (block) => {
    const cut = flatCut(block.station, centre, sagitta);
    if (!cut) return null;
    return formOf(patch, block, from, to, (angle) => tableAt(patch, cut.departure, angle));
  };
}

/** A departure by normal angle as departures of a block's points between two heights. */
export function formOf(
  patch: EdgePatch,
  { points, height }: EdgeBlock,
  from: number,
  to: number,
  at: (angle: number) => number,
): Float64Array {
  const form = new Float64Array(points.length);
  for (let k = lowerBound(height, from); k < points.length && height[k] < to; k++) form[k] = at(patch.angle[points[k]]);
  return form;
}

/** Square (mm²) of what the blocks' smooth form leaves of a form, and its product with what it leaves of the deviations. */
export function effectOn({ columns, residual }: EdgeBlock, form: Float64Array): { square: number; cross: number } {
  let square = dot(form, form);
  if (square === 0) return { square: 0, cross: 0 };
  for (const column of columns) square -= dot(column, form) ** 2;
  return { square, cross: dot(form, residual) };
}

/** What is left of the deviations with a form taken away and the smooth form fitted anew. */
export function leftWith({ columns, residual }: EdgeBlock, form: Float64Array): Float64Array {
  const own = left(columns, form);
  return residual.map((r, k) => r - own[k]);
}

function left(columns: readonly Float64Array[], values: Float64Array): Float64Array {
  const rest = values.slice();
  for (const column of columns) {
    const share = dot(column, rest);
    for (let i = 0; i < rest.length; i++) rest[i] -= share * column[i];
  }
  return rest;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}
