import type { Characteristic } from './model/results.ts';
import type { Parameters, Value } from './model/value.ts';

/** A quantity of one section to be measured by a definition; `of` and `at` as in a plan's characteristic. */
export interface MeasureOne {
  section: string;
  of: string;
  at?: number;
  definition: string;
  parameters?: Parameters;
}

/** Points round an edge with their signed distance from the circle or ellipse that a definition fits there. */
export interface EdgeTrace {
  /** Angle of the outward normal from the edge's own direction, -100 … 100, rising counter-clockwise (degrees). */
  angleDeg: number[];
  /** Distance from the fitted curve (mm), positive outside it. */
  residual: number[];
  x: number[];
  y: number[];
}

export interface MeasuredOne {
  nominal: Value | null;
  measured: Value | null;
  /** The judged row; null for a quantity without one. */
  row: Characteristic | null;
  /** For a radius or an ellipse of an edge. */
  edge?: EdgeTrace;
}
