import type { BsplineCurve } from '../model/bspline.ts';
import { bsplineCurveAt, CURVE_PLACE_SIZE } from '../spatial/bspline-evaluate.ts';

/** Fewest points of a section. */
const LEAST_POINTS = 400;
/** Largest turn of the outline between neighbouring points (rad): 3° keeps a cubic within 1e-8 of the radius. */
const MOST_TURN = (3 * Math.PI) / 180;
/** Places at which a knot span is looked at. */
const LOOKS = 8;

/**
 * Returns points x0, y0, x1, … along a closed plane curve, the end left out: every knot, and between knots as many as
 * turn and length ask for.
 */
export function closedCurvePoints(curve: BsplineCurve): number[] {
  const { knots, degree } = curve;
  const out = new Float64Array(CURVE_PLACE_SIZE);
  const spans: { from: number; to: number; length: number; turn: number }[] = [];
  let perimeter = 0;
  for (let k = degree; k < knots.length - degree - 1; k++) {
    const [from, to] = [knots[k], knots[k + 1]];
    if (to <= from) continue;
    const span = { from, to, length: 0, turn: 0 };
    let [x, y, dx, dy] = [0, 0, 0, 0];
    for (let i = 0; i <= LOOKS; i++) {
      // Just inside the ends, so that a corner there is no turn.
      const share = Math.min(Math.max(i / LOOKS, 1e-6), 1 - 1e-6);
      bsplineCurveAt(curve, from + share * (to - from), out);
      if (i > 0) {
        span.length += Math.hypot(out[0] - x, out[1] - y);
        const turn = Math.abs(Math.atan2(dx * out[4] - dy * out[3], dx * out[3] + dy * out[4]));
        span.turn = Math.max(span.turn, turn * LOOKS);
      }
      [x, y, dx, dy] = [out[0], out[1], out[3], out[4]];
    }
    perimeter += span.length;
    spans.push(span);
  }
  const points: number[] = [];
  for (const { from, to, length, turn } of spans) {
    const parts = Math.max(1, Math.ceil(turn / MOST_TURN), Math.ceil((length / perimeter) * LEAST_POINTS));
    for (let part = 0; part < parts; part++) {
      bsplineCurveAt(curve, from + (part / parts) * (to - from), out);
      points.push(out[0], out[1]);
    }
  }
  return points;
}
