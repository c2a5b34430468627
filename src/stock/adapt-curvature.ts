/** Share of the greatest curvature by which it may fall on the way to the nose and still count as rising. */
const FALL = 0.04;

/**
 * True when curvatures from one junction over the nose to the other rise to one greatest and fall from there, but for a
 * small share of it; null without any.
 */
export function risesAndFalls(values: ArrayLike<number>): boolean | null {
  const n = values.length;
  if (n === 0) return null;
  let peak = 0;
  for (let i = 1; i < n; i++) if (values[i] > values[peak]) peak = i;
  const allowed = FALL * values[peak];
  let [highest, lowest] = [values[0], values[peak]];
  for (let i = 1; i <= peak; i++) {
    if (values[i] < highest - allowed) return false;
    highest = Math.max(highest, values[i]);
  }
  for (let i = peak + 1; i < n; i++) {
    if (values[i] > lowest + allowed) return false;
    lowest = Math.min(lowest, values[i]);
  }
  return true;
}
