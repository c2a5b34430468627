import type { SectionResult } from '../model/results.ts';

/** What a results document says of a section that is no plane across Z. */
export type CutRecord = NonNullable<SectionResult['cut']>;

/**
 * A surface that sections are cut with, and its development: the flat picture of it that keeps lengths and angles.
 * Points are x, y, z and developed points x, y (mm). The development's origin is the stack point, where the stacking axis
 * Z meets the cut; its axes are right-handed seen from the tip.
 */
export interface SectionCut {
  id: string;
  record: CutRecord;
  /** Height of the stack point (mm). */
  height: number;
  /** Height at which the line along Z through (x, y) meets the cut (mm); NaN where it does not. */
  heightOver: (x: number, y: number) => number;
  /** Signed distance of a point from the cut (mm), positive towards the tip; writes its gradient, a unit vector. */
  level: (point: Float64Array, gradient: Float64Array) => number;
  /** Writes the developed point of a point on the cut (of its foot, for one beside it). */
  develop: (point: Float64Array, out: Float64Array) => void;
  /** Writes the point on the cut of a developed point. */
  undevelop: (x: number, y: number, out: Float64Array) => void;
}
