import type { PlanCharacteristic } from '../model/plan.ts';
import type { CatalogueEntry } from './catalogue.ts';

/** What a value is held against. */
export interface Requirement {
  nominal: number | null;
  lower: number | null;
  upper: number | null;
}

/** A requirement, and whether it hangs in the air. */
export interface FoundRequirement {
  requirement: Requirement;
  /** True when limits are given as amounts but there is no nominal value to count them from. */
  missing: boolean;
}

/**
 * The requirement of a row: the plan's nominal, else 0 for a deviation by nature, else the nominal blade's own value by
 * the same definition.
 * @param own value of the nominal blade, null when there is none
 */
export function requirementOf(item: PlanCharacteristic, entry: CatalogueEntry, own: number | null): FoundRequirement {
  const nominal = item.nominal ?? (entry.aboutZero ? 0 : own);
  const from = (amount: number | undefined, sign: 1 | -1) =>
    amount === undefined || nominal === null ? null : nominal + sign * amount;
  return {
    requirement: {
      nominal,
      lower: item.lower ?? from(item.minus, -1),
      upper: item.upper ?? from(item.plus, 1),
    },
    missing: nominal === null && (item.plus !== undefined || item.minus !== undefined),
  };
}
