import type { Plan } from '../model/plan.ts';
import type { Effect } from './catalogue.ts';
import { gainsOf, type Size } from './effects.ts';

/** Standard uncertainties (k = 1) by source, in the unit of the value. */
export type Budget = Record<string, number>;

export interface UncertaintyOf {
  /** Root sum of squares of the parts; null when a part is not known. */
  u: number | null;
  /** Absent when a part is not known. */
  budget?: Budget;
}

/**
 * Returns the uncertainty budget of a value: `random` from the scatter of its points, and where the plan states them
 * `equipment`, `tipRadius` and `temperature`. The parts are independent of each other and are kept apart.
 * @param random standard uncertainty from the scatter, null when unknown
 */
export function uncertaintyOf(
  value: number | null,
  random: number | null,
  effect: Effect,
  size: Size,
  plan: Plan | null,
): UncertaintyOf {
  if (value === null || random === null) return { u: null };
  const stated = plan?.uncertainty ?? {};
  const gains = gainsOf(effect, value, size);
  const budget: Budget = { random };
  const add = (name: string, gain: number | null, error: number): boolean => {
    if (error === 0) return true;
    if (gain === null) return false;
    budget[name] = gain * error;
    return true;
  };
  const { temperature } = stated;
  const known =
    add('equipment', gains.equipment, stated.equipment ?? 0) &&
    add('tipRadius', gains.tipRadius, stated.tipRadius ?? 0) &&
    add('temperature', gains.expansion, temperature ? Math.abs(temperature.expansion) * temperature.u : 0);
  return known ? { u: rootSum(budget), budget } : { u: null };
}

/** Root sum of squares of a budget's parts. */
export function rootSum(budget: Budget): number {
  return Math.hypot(...Object.values(budget));
}

/** A budget in a unit that counts a number of times, such as the zone value that counts a deviation twice. */
export function timesBudget(budget: Budget, factor: number): Budget {
  return Object.fromEntries(Object.entries(budget).map(([name, part]) => [name, factor * part]));
}
