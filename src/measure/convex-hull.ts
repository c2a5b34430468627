/**
 * Returns the indices of the convex hull of points, counter-clockwise, points on an edge left out. Monotone chain
 * (Andrew).
 * @param x,y points (mm)
 */
export function convexHull(x: Float64Array, y: Float64Array): Int32Array {
  const n = x.length;
  const order = Array.from({ length: n }, (_, i) => i).sort((a, b) => x[a] - x[b] || y[a] - y[b] || a - b);
  const hull = new Int32Array(2 * n + 1);
  let size = 0;
  const add = (i: number, least: number) => {
    while (size >= least) {
      const a = hull[size - 2];
      const b = hull[size - 1];
      if ((x[b] - x[a]) * (y[i] - y[a]) - (y[b] - y[a]) * (x[i] - x[a]) > 0) break;
      size--;
    }
    hull[size++] = i;
  };
  for (let k = 0; k < n; k++) add(order[k], 2);
  const upper = size + 1;
  for (let k = n - 2; k >= 0; k--) add(order[k], upper);
  return hull.slice(0, size - 1);
}
