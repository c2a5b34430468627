/**
 * Returns points moved from a ball's centre onto the part along given unit vectors, p = c − rho n. The vectors may be
 * outward normals or approach directions: what most of them say about the middle of all points is taken for all.
 * @param centres x0, y0, z0, … (mm)
 * @param vectors same layout
 */
export function compensatePoints(centres: Float64Array, vectors: Float64Array, tipRadius: number): Float64Array {
  const count = centres.length / 3;
  const middle = [0, 0, 0];
  for (let i = 0; i < centres.length; i++) middle[i % 3] += centres[i] / count;
  let outward = 0;
  for (let i = 0; i < centres.length; i++) outward += (centres[i] - middle[i % 3]) * vectors[i];
  const step = outward < 0 ? tipRadius : -tipRadius;
  return centres.map((value, i) => value + step * vectors[i]);
}
