import { evaluateOutline } from '../fit/outline-evaluate.ts';
import type { Outline } from '../model/outline.ts';

const STEPS_A_PERIOD = 20_000;
const out = new Float64Array(8);

/** How far an outline reaches about a place until its normal has turned by an angle to either side. */
export interface TurnReach {
  /** Parameters, not wrapped. */
  from: number;
  to: number;
  /** Length (mm) and turn (rad) between them. */
  length: number;
  turn: number;
}

/** Returns the stretch about a place over which the normal turns by `halfAngle` (rad) to either side. */
export function turnReach(outline: Outline, at: number, halfAngle: number): TurnReach {
  const step = outline.period / STEPS_A_PERIOD;
  const reach: TurnReach = { from: at, to: at, length: 0, turn: 0 };
  for (const way of [1, -1] as const) {
    evaluateOutline(outline, at, out);
    let angle = 0;
    for (let k = 1; k <= STEPS_A_PERIOD / 4 && Math.abs(angle) < halfAngle; k++) {
      const [x, y, dx, dy] = out;
      evaluateOutline(outline, at + way * k * step, out);
      angle += Math.atan2(dx * out[3] - dy * out[2], dx * out[2] + dy * out[3]);
      // A corner takes the whole angle in one step, which counts for nothing in length.
      if (Math.abs(angle) >= halfAngle) break;
      reach.length += Math.hypot(out[0] - x, out[1] - y);
      reach[way > 0 ? 'to' : 'from'] = at + way * k * step;
    }
    reach.turn += Math.min(Math.abs(angle), halfAngle);
  }
  return reach;
}

/** Returns the curvature of an outline (1/mm), the mean over `reach` of parameter on either side; positive: convex. */
export function meanCurvature(outline: Outline, at: number, reach: number): number {
  evaluateOutline(outline, at - reach, out);
  const [x, y, dx, dy] = out;
  evaluateOutline(outline, at + reach, out);
  const turn = Math.atan2(dx * out[3] - dy * out[2], dx * out[2] + dy * out[3]);
  // The chord of an arc of that turn.
  return (2 * Math.sin(turn / 2)) / Math.hypot(out[0] - x, out[1] - y);
}
