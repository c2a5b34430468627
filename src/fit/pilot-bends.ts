import { type ClosedKnots, cubicThird } from './closed-basis.ts';
import type { ShapedSpans } from './shaped-spans.ts';

/** Half width of the window over which a pilot is averaged, as a share of the period. */
const WINDOW = 0.02;
/** Least size, as a share of the mean over spans off the shapes. */
const FLOOR = 0.1;

/**
 * Returns for each span the size (1/mm²) of the third derivative that a smooth pilot fit has round it, less the target of
 * a shaped span: root mean square over a window that ends where a shape begins. It tells how much the outline bends where,
 * so that smoothing can follow (locally adaptive smoothing after Pintore, Speckman & Holmes, Biometrika 93, 2006).
 * @param controls control points of the pilot, x0, y0, …
 */
export function pilotBends(closed: ClosedKnots, shaped: ShapedSpans | undefined, controls: Float64Array): Float64Array {
  const n = closed.knots.length;
  const square = new Float64Array(n);
  const length = new Float64Array(n);
  const middle = new Float64Array(n);
  const third = new Float64Array(4);
  let [sum, whole] = [0, 0];
  for (let k = 0; k < n; k++) {
    length[k] = closed.extended[k + 4] - closed.extended[k + 3];
    if (length[k] <= 0) continue;
    middle[k] = 0.5 * (closed.extended[k + 3] + closed.extended[k + 4]);
    cubicThird(closed, k, third);
    let x = -(shaped?.targets[2 * k] ?? 0);
    let y = -(shaped?.targets[2 * k + 1] ?? 0);
    for (let a = 0; a < 4; a++) {
      const i = (k - 3 + a + n) % n;
      x += third[a] * controls[2 * i];
      y += third[a] * controls[2 * i + 1];
    }
    square[k] = x * x + y * y;
    if (shaped?.mask[k] === 1) continue;
    sum += length[k] * square[k];
    whole += length[k];
  }
  const floor = FLOOR * FLOOR * (whole > 0 ? sum / whole : 1);
  const reach = WINDOW * closed.period;
  return square.map((own, k) => {
    let [total, weight] = [own * length[k], length[k]];
    for (const way of [1, -1])
      for (let j = 1; j < n; j++) {
        const i = (k + way * j + n) % n;
        if (length[i] > 0) {
          const apart = Math.abs(middle[i] - middle[k]);
          if (Math.min(apart, closed.period - apart) > reach || shaped?.mask[i] !== shaped?.mask[k]) break;
        }
        total += square[i] * length[i];
        weight += length[i];
      }
    return Math.sqrt(floor + (weight > 0 ? total / weight : 0));
  });
}
