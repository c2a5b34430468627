import type { NominalSurface } from '../model/surface.ts';

/** Curvature of a surface at a place (1/mm, 1/mm²); convex is positive, as a ball from outside. */
export interface SurfaceCurvature {
  /** Mean curvature, (k1 + k2) / 2. */
  mean: number;
  /** Gaussian curvature, k1 k2. */
  gaussian: number;
  /** Principal curvatures, the more convex first. */
  first: number;
  second: number;
  /** Area a unit of u and height. */
  density: number;
}

/** Returns a record to write curvatures to. */
export function emptyCurvature(): SurfaceCurvature {
  return { mean: 0, gaussian: 0, first: 0, second: 0, density: 0 };
}

/**
 * Writes the curvature of an evaluated place to `out`. From the fundamental forms (do Carmo, Differential Geometry of
 * Curves and Surfaces, 3-3): with E F G of the first and e f g of the second form for the outward normal n,
 * K = (e g − f²) / (E G − F²) and H = −(e G − 2 f F + g E) / (2 (E G − F²)), the sign turned so that convex is positive.
 * @param place from evaluateSurface (mm)
 */
export function placeCurvature(surface: NominalSurface, place: Float64Array, out: SurfaceCurvature): void {
  const [ux, uy, uz, zx, zy, zz] = [place[3], place[4], place[5], place[6], place[7], place[8]];
  const nx = uy * zz - uz * zy;
  const ny = uz * zx - ux * zz;
  const nz = ux * zy - uy * zx;
  const density = Math.sqrt(nx * nx + ny * ny + nz * nz);
  const scale = surface.orientation / density;
  const form = (k: number): number => scale * (nx * place[k] + ny * place[k + 1] + nz * place[k + 2]);
  const [e, f, g] = [form(9), form(12), form(15)];
  const E = ux * ux + uy * uy + uz * uz;
  const F = ux * zx + uy * zy + uz * zz;
  const G = zx * zx + zy * zy + zz * zz;
  const square = density * density;
  out.mean = -(e * G - 2 * f * F + g * E) / (2 * square);
  out.gaussian = (e * g - f * f) / square;
  const half = Math.sqrt(Math.max(0, out.mean * out.mean - out.gaussian));
  out.first = out.mean + half;
  out.second = out.mean - half;
  out.density = density;
}
