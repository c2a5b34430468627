/**
 * Returns the length of a vector in the plane from its finite components. Scaled by the larger of them, so that nothing
 * overflows, and the same to the last bit on every engine. Unlike `Math.hypot` it is put in line by compilers and makes
 * no numbers on the heap, which counts where it is called for every point.
 */
export function planeLength(x: number, y: number): number {
  const a = Math.abs(x);
  const b = Math.abs(y);
  if (a < b) {
    const share = a / b;
    return Math.sqrt(share * share + 1) * b;
  }
  if (!(a > 0)) return a + b;
  const share = b / a;
  return Math.sqrt(1 + share * share) * a;
}
