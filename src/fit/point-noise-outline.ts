/** Differences used: they cancel polynomials below this order, so that a bend of the outline does not count as noise. */
const ORDERS = [4, 6];

/**
 * Returns the standard deviation (mm) of ordered outline points along the outline's normal, found in the points
 * themselves: normalised divided differences over neighbouring points in the frame of their chord (pseudo-residuals,
 * after Gasser, Sroka & Jennen-Steinmetz, Biometrika 73, 1986), then the median, so that corners, edges and stray
 * points do not count. The smaller of two orders of difference is taken: where points are sparse the lower one sees the shape.
 * @param points x0, y0, x1, … (mm), closed order
 */
export function outlinePointNoise(points: Float64Array): number {
  const count = points.length >> 1;
  let sigma = Number.POSITIVE_INFINITY;
  for (const order of ORDERS) if (count > 2 * order) sigma = Math.min(sigma, differenceNoise(points, order));
  return Number.isFinite(sigma) ? sigma : 0;
}

function differenceNoise(points: Float64Array, order: number): number {
  const count = points.length >> 1;
  const width = order + 1;
  const along = new Float64Array(width);
  const across = new Float64Array(width);
  const sizes = new Float64Array(count);
  for (let start = 0; start < count; start++) {
    const last = (start + order) % count;
    const ox = points[2 * start];
    const oy = points[2 * start + 1];
    let tx = points[2 * last] - ox;
    let ty = points[2 * last + 1] - oy;
    const length = Math.hypot(tx, ty) || 1;
    tx /= length;
    ty /= length;
    for (let j = 0; j < width; j++) {
      const i = (start + j) % count;
      const dx = points[2 * i] - ox;
      const dy = points[2 * i + 1] - oy;
      along[j] = (dx * tx + dy * ty) / length;
      across[j] = dy * tx - dx * ty;
    }
    let sum = 0;
    let square = 0;
    for (let j = 0; j < width; j++) {
      let product = 1;
      for (let k = 0; k < width; k++) if (k !== j) product *= along[j] - along[k];
      const weight = 1 / (product || Number.MIN_VALUE * 1e16);
      sum += weight * across[j];
      square += weight * weight;
    }
    const size = Math.abs(sum) / Math.sqrt(square);
    sizes[start] = Number.isFinite(size) ? size : 0;
  }
  sizes.sort();
  return sizes[count >> 1] / 0.6744897501960817;
}
