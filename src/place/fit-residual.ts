import type { NominalSurface } from '../model/surface.ts';
import type { FitLevel } from './fit-step.ts';
import { type Robust, robustWeight } from './robust-kernel.ts';

/** Distances of the points the fit stands on, weighted as in the fit but for the robust weights (mm). */
export interface FitResidual {
  rms: number;
  /** Positive: material outside nominal. */
  mean: number;
  /** Largest distance. */
  max: number;
  count: number;
}

export interface LeftOut {
  count: number;
  reasons: Record<string, number>;
}

/** Returns the residuals of the used points that are no outliers. */
export function fitResidual(level: FitLevel, robust: Robust, offset: number): FitResidual {
  const { feet, used, weights, scale } = level;
  let [squares, sum, total, max, count] = [0, 0, 0, 0, 0];
  for (let i = 0; i < used.length; i++) {
    const d = feet.deviation[i];
    if (!used[i] || robustWeight(robust, d - offset, scale) === 0) continue;
    squares += weights[i] * d * d;
    sum += weights[i] * d;
    total += weights[i];
    max = Math.max(max, Math.abs(d));
    count++;
  }
  if (count === 0) return { rms: 0, mean: 0, max: 0, count };
  return { rms: Math.sqrt(squares / total), mean: sum / total, max, count };
}

/** Returns the points the fit left out, by reason. */
export function leftOutOf(
  level: FitLevel,
  surface: NominalSurface,
  robust: Robust,
  offset: number,
  gate: number,
): LeftOut {
  const { feet, used, moved, scale } = level;
  const { heights } = surface;
  const isPast = (z: number) => z < heights[0] || z > heights[heights.length - 1];
  const isRelated = (i: number) => feet.border[i] === 0 && Math.abs(feet.deviation[i]) <= gate;
  const reasons: Record<string, number> = {};
  let count = 0;
  const add = (reason: string) => {
    reasons[reason] = (reasons[reason] ?? 0) + 1;
    count++;
  };
  for (let i = 0; i < used.length; i++) {
    if (feet.border[i] === 1 || isPast(moved[3 * i + 2]) || (!used[i] && isRelated(i))) add('outside the span');
    else if (!used[i]) add('beyond the gate');
    else if (robustWeight(robust, feet.deviation[i] - offset, scale) === 0) add('does not fit its neighbours');
  }
  return { count, reasons };
}
