import { normalFrom, seededRandom } from '../../src/math/random.ts';
import type { SectionPoints } from '../../src/model/shape.ts';

/** A straight blade, 40 mm long and 4 mm thick, with round edges, leaning in the plane of Y and Z. */
export interface RoundEdged {
  /** Radius of the edges (mm), their centres at x = ±20. */
  edge: number;
  /** Lean of the axis (rad). */
  lean: number;
}

const HALF = 20;
const THICK = 2;

/** Contour as x, y, and outward normal, counter-clockwise: `round` points on each edge, `flat` on each of four flanks. */
export function contour(
  { edge }: Pick<RoundEdged, 'edge'>,
  round = 200,
  flat = 160,
): [number, number, number, number][] {
  // The hull of three circles: the flanks are tangent to two of them.
  const slant = Math.asin((THICK - edge) / HALF);
  const places: [number, number, number, number][] = [];
  const arc = (cx: number, radius: number, from: number, to: number, count: number): void => {
    for (let i = 0; i < count; i++) {
      const angle = from + ((to - from) * (i + 0.5)) / count;
      places.push([cx + radius * Math.cos(angle), radius * Math.sin(angle), Math.cos(angle), Math.sin(angle)]);
    }
  };
  const line = (c0: number, r0: number, c1: number, r1: number, angle: number): void => {
    const [mx, my] = [Math.cos(angle), Math.sin(angle)];
    for (let i = 0; i < flat; i++) {
      const f = (i + 0.5) / flat;
      places.push([(c0 + r0 * mx) * (1 - f) + (c1 + r1 * mx) * f, (r0 * (1 - f) + r1 * f) * my, mx, my]);
    }
  };
  const quarter = Math.PI / 2;
  arc(HALF, edge, slant - quarter, quarter - slant, round);
  line(HALF, edge, 0, THICK, quarter - slant);
  arc(0, THICK, quarter - slant, quarter + slant, 16);
  line(0, THICK, -HALF, edge, quarter + slant);
  arc(-HALF, edge, quarter + slant, 3 * quarter - slant, round);
  line(-HALF, edge, 0, THICK, 3 * quarter - slant);
  arc(0, THICK, 3 * quarter - slant, 3 * quarter + slant, 16);
  line(0, THICK, HALF, edge, 3 * quarter + slant);
  return places;
}

/** Returns a section of the part at a height as a ball of radius `tip` touches it: its centres, with noise along the normal. */
export function probedSection(
  part: RoundEdged,
  height: number,
  tip: number,
  noise: { sigma: number; seed: number },
  places = contour(part),
): SectionPoints {
  const slope = Math.tan(part.lean);
  const normal = normalFrom(seededRandom(noise.seed));
  const points = places.flatMap(([x, y, mx, my]) => {
    const size = Math.hypot(1, my * slope);
    const nz = (-my * slope) / size;
    const reach = tip / size + noise.sigma * normal();
    return [x + reach * mx, y + reach * my + slope * (height - tip * nz)];
  });
  return { id: `z${height}`, height, points: Float64Array.from(points) };
}
