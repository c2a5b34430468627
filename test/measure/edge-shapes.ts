import { fitOutline } from '../../src/fit/fit-outline.ts';
import { evaluateOutline } from '../../src/fit/outline-evaluate.ts';
import { outlineFoot } from '../../src/fit/outline-foot.ts';
import { findSectionEdges } from '../../src/fit/section-edges.ts';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import type { EdgeName, Quantity } from '../../src/measure/definitions/definition.ts';
import { measureBy } from '../../src/measure/definitions/definitions.ts';
import { MEASURE_DEFAULTS } from '../../src/measure/measure-options.ts';
import { type Section, type SectionContext, sectionContext } from '../../src/measure/section-context.ts';
import type { Parameters, Value } from '../../src/model/value.ts';

/** Ask for a value at an edge by definition id. */
export type AtEdge = (edge: EdgeName, quantity: Quantity, id: string, parameters?: Parameters, at?: number) => Value;

export const contextOf = (section: Section): SectionContext => sectionContext(section, MEASURE_DEFAULTS);

export function edgesOf(section: Section): AtEdge {
  const context = contextOf(section);
  return (edge, quantity, id, parameters = {}, at) =>
    measureBy({ context, edge, flank: null, at: at ?? null, against: null }, quantity, id, parameters);
}

/** Points from (x0, y0) up to, not including, (x1, y1). */
function line(points: number[], x0: number, y0: number, x1: number, y1: number, count: number): void {
  for (let i = 0; i < count; i++) points.push(x0 + ((x1 - x0) * i) / count, y0 + ((y1 - y0) * i) / count);
}

/** Plate 30 × 2 whose ends have two corners of radius r each. */
export function roundedPlate(r: number, flank: number, arc: number, end: number): Float64Array {
  const points: number[] = [];
  const corner = (cx: number, cy: number, start: number) => {
    for (let i = 0; i < arc; i++) {
      const angle = start + (0.5 * Math.PI * i) / arc;
      points.push(cx + r * Math.cos(angle), cy + r * Math.sin(angle));
    }
  };
  line(points, -15 + r, -1, 15 - r, -1, flank);
  corner(15 - r, -1 + r, -0.5 * Math.PI);
  line(points, 15, -1 + r, 15, 1 - r, end);
  corner(15 - r, 1 - r, 0);
  line(points, 15 - r, 1, -15 + r, 1, flank);
  corner(-15 + r, 1 - r, 0.5 * Math.PI);
  line(points, -15, 1 - r, -15, -1 + r, end);
  corner(-15 + r, -1 + r, Math.PI);
  return Float64Array.from(points);
}

/** Corner-to-corner polygon with `each` points a side; the corners are every `each`-th point. */
export function polygonPoints(corners: [number, number][], each: number): Float64Array {
  const points: number[] = [];
  corners.forEach(([x, y], k) => {
    const next = corners[(k + 1) % corners.length];
    line(points, x, y, next[0], next[1], each);
  });
  return Float64Array.from(points);
}

/** The section mirrored about the X axis. */
export function mirrored(points: Float64Array): Float64Array {
  const count = points.length / 2;
  return Float64Array.from(points, (_, k) => {
    const i = count - 1 - (k >> 1);
    return k % 2 === 0 ? points[2 * i] : -points[2 * i + 1];
  });
}

/** A fit to the points with normal noise (mm) along the normals of the exact section. */
export function noisySection(exact: Section, points: Float64Array, sigma: number, seed: number): Section {
  const normal = normalFrom(seededRandom(seed));
  const out = new Float64Array(8);
  const moved = points.slice();
  for (let i = 0; i < points.length; i += 2) {
    evaluateOutline(exact.outline, outlineFoot(exact.outline, points[i], points[i + 1]).t, out);
    const error = (sigma * normal()) / Math.hypot(out[2], out[3]);
    moved[i] += error * out[3];
    moved[i + 1] -= error * out[2];
  }
  const fitted = fitOutline(moved);
  return { outline: fitted.outline, edges: findSectionEdges(fitted.outline), fitted };
}

/** Standard deviation over root mean square uncertainty, mean error over standard deviation, of values against the truth. */
export function spread(values: readonly Value[], truth: number): { ratio: number; bias: number; sd: number } {
  const errors = values.map((v) => (v.value ?? Number.NaN) - truth);
  const n = errors.length;
  const mean = errors.reduce((a, b) => a + b, 0) / n;
  const sd = Math.sqrt(errors.reduce((a, e) => a + (e - mean) ** 2, 0) / (n - 1));
  const u = Math.sqrt(values.reduce((a, v) => a + (v.u ?? Number.NaN) ** 2, 0) / n);
  return { ratio: sd / u, bias: mean / sd, sd };
}
