import { POINT_BEYOND_GATE, POINT_OUTLIER, POINT_OUTSIDE_SPAN, type Relation } from '../model/relation.ts';
import type { Alignment } from '../model/results.ts';

const REASONS: readonly [number, string][] = [
  [POINT_OUTSIDE_SPAN, 'outside the span'],
  [POINT_BEYOND_GATE, 'beyond the gate'],
  [POINT_OUTLIER, 'does not fit its neighbours'],
];

/** Returns how many measured points are not taken for the aerofoil's surface, by reason. */
export function leftOut(relation: Relation): Alignment['leftOut'] {
  const reasons: Record<string, number> = {};
  let count = 0;
  for (const [flag, reason] of REASONS) {
    let found = 0;
    for (let i = 0; i < relation.count; i++) if (relation.flag[i] === flag) found++;
    if (found > 0) reasons[reason] = found;
    count += found;
  }
  return { count, reasons };
}
