import type { ClosedKnots } from './closed-basis.ts';
import type { ShapedSpans } from './shaped-spans.ts';

/** Half width of the window over which a pilot is averaged, as a share of the period. */
const WINDOW = 0.03;
/** Least size, as a share of the mean over spans off the shapes. */
const FLOOR = 0.1;

/**
 * Returns for each span the size (1/mm²) of the third derivative that a former fit has round it, less the target of a
 * shaped span: root mean square over a window that ends where a shape begins. It tells how much the outline bends where,
 * so that smoothing can follow (locally adaptive smoothing after Pintore, Speckman & Holmes, Biometrika 93, 2006).
 * @param thirdAt writes the former fit's third derivative at a parameter of the spline to `out[0…1]`
 */
export function pilotBends(
  closed: ClosedKnots,
  shaped: ShapedSpans | undefined,
  thirdAt: (t: number, out: Float64Array) => void,
): Float64Array {
  const n = closed.knots.length;
  const square = new Float64Array(n);
  const length = new Float64Array(n);
  const middle = new Float64Array(n);
  const out = new Float64Array(8);
  let [sum, whole] = [0, 0];
  for (let k = 0; k < n; k++) {
    length[k] = closed.extended[k + 4] - closed.extended[k + 3];
    if (length[k] <= 0) continue;
    middle[k] = 0.5 * (closed.extended[k + 3] + closed.extended[k + 4]);
    thirdAt(middle[k], out);
    const x = out[0] - (shaped?.targets[2 * k] ?? 0);
    const y = out[1] - (shaped?.targets[2 * k + 1] ?? 0);
    square[k] = x * x + y * y;
    if (shaped?.mask[k] === 1) continue;
    sum += length[k] * Math.min(square[k], Number.MAX_VALUE);
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
