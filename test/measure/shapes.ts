import { interpolateOutline } from '../../src/fit/interpolate-outline.ts';
import { findSectionEdges } from '../../src/fit/section-edges.ts';
import type { Section } from '../../src/measure/section-context.ts';

/** Closed-form sections as counter-clockwise points x0, y0, … (mm). */

export interface DiskSection {
  /** Radius (mm) and turning (degrees) of the circular line of centres. */
  bend: number;
  turnDeg: number;
  radius: (u: number) => number;
  slope: (u: number) => number;
}

/** Disc-envelope section with an exact line of centres: camber arc R = 50, 40 degrees. */
export const CAMBERED: DiskSection = {
  bend: 50,
  turnDeg: 40,
  radius: (u) => 0.5 + 5 * u - 5.2 * u * u,
  slope: (u) => 5 - 10.4 * u,
};

/** Where along each stretch the points lie: `count` values rising from 0, below 1. */
type Spread = (count: number) => number[];
const cosine: Spread = (n) => Array.from({ length: n }, (_, i) => 0.5 - 0.5 * Math.cos((Math.PI * i) / n));
const even: Spread = (n) => Array.from({ length: n }, (_, i) => i / n);

/** Points of the envelope of the discs: contour = c + r (−r′ T ± √(1 − r′²) N), end discs as caps. */
export function diskPoints(
  section: DiskSection,
  flank: number,
  cap: number,
  spread: { flank: Spread; cap: Spread } = { flank: cosine, cap: even },
): Float64Array {
  const { bend, turnDeg, radius, slope } = section;
  const half = (turnDeg * Math.PI) / 360;
  const length = 2 * half * bend;
  const centre = (u: number) => [
    bend * Math.sin(2 * half * u - half),
    bend * (Math.cos(2 * half * u - half) - Math.cos(half)),
  ];
  const side = (u: number, sign: number) => {
    const angle = 2 * half * u - half;
    const [x, y] = centre(u);
    const k = slope(u) / length;
    const q = sign * Math.sqrt(1 - k * k);
    const r = radius(u);
    return [x + r * (-k * Math.cos(angle) + q * Math.sin(angle)), y + r * (k * Math.sin(angle) + q * Math.cos(angle))];
  };
  const points: number[] = [];
  const capOf = (u: number, from: number[], to: number[]) => {
    const [x, y] = centre(u);
    const start = Math.atan2(from[1] - y, from[0] - x);
    const swing = (Math.atan2(to[1] - y, to[0] - x) - start + 4 * Math.PI) % (2 * Math.PI);
    for (const f of spread.cap(cap))
      points.push(x + radius(u) * Math.cos(start + swing * f), y + radius(u) * Math.sin(start + swing * f));
  };
  for (const f of spread.flank(flank)) points.push(...side(f, -1));
  capOf(1, side(1, -1), side(1, 1));
  for (const f of spread.flank(flank)) points.push(...side(1 - f, 1));
  capOf(0, side(0, 1), side(0, -1));
  return Float64Array.from(points);
}

/** Plate of length L and half thickness b with elliptic ends a : b (a = b: circular). */
export function platePoints(length: number, a: number, b: number, flank: number, cap: number): Float64Array {
  const points: number[] = [];
  const reach = length / 2 - a;
  for (const f of even(flank)) points.push(-reach + 2 * reach * f, -b);
  for (const f of even(cap)) points.push(reach + a * Math.sin(Math.PI * f), -b * Math.cos(Math.PI * f));
  for (const f of even(flank)) points.push(reach - 2 * reach * f, b);
  for (const f of even(cap)) points.push(-reach - a * Math.sin(Math.PI * f), b * Math.cos(Math.PI * f));
  return Float64Array.from(points);
}

export function ellipsePoints(a: number, b: number, count: number): Float64Array {
  return Float64Array.from({ length: 2 * count }, (_, k) => {
    const angle = (2 * Math.PI * (k >> 1)) / count;
    return k % 2 === 0 ? a * Math.cos(angle) : b * Math.sin(angle);
  });
}

/** Half thickness of the 4-digit form with a closed trailing edge, t = 0.12, chord 1. */
export function nacaHalf(x: number): number {
  return 0.6 * (0.2969 * Math.sqrt(x) - 0.126 * x - 0.3516 * x * x + 0.2843 * x ** 3 - 0.1036 * x ** 4);
}

/** Points of that section, the trailing edge (a corner) first; x = f² puts them close at the nose. */
export function nacaPoints(scale: number, count: number): Float64Array {
  const points: number[] = [scale, 0];
  for (let i = count - 1; i > -count; i--) {
    const f = Math.sin((Math.PI * i) / (2 * count));
    const x = f * f;
    points.push(scale * x, Math.sign(i) * scale * nacaHalf(x));
  }
  return Float64Array.from(points);
}

/** Joukowski section z = ζ + 1/ζ, circle radius 1.1 about −0.1, the cusp first. */
export function joukowskiPoints(count: number): Float64Array {
  return Float64Array.from({ length: 2 * count }, (_, k) => {
    const angle = (2 * Math.PI * (k >> 1)) / count;
    const x = -0.1 + 1.1 * Math.cos(angle);
    const y = 1.1 * Math.sin(angle);
    const square = x * x + y * y;
    return k % 2 === 0 ? x + x / square : y - y / square;
  });
}

/** Section of exact points, its edges found. */
export function sectionOf(points: Float64Array, corners: number[] = []): Section {
  const outline = interpolateOutline(points, { corners });
  return { outline, edges: findSectionEdges(outline) };
}

/** Points turned by an angle (rad) about a pivot, then moved. */
export function moved(
  points: Float64Array,
  angle: number,
  pivot: [number, number],
  dx: number,
  dy: number,
): Float64Array {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return Float64Array.from(points, (_, k) => {
    const x = points[k & ~1] - pivot[0];
    const y = points[k | 1] - pivot[1];
    return k % 2 === 0 ? pivot[0] + dx + c * x - s * y : pivot[1] + dy + s * x + c * y;
  });
}

/** Points of the cambered section with its leading end disc grown from 0.50 to 0.55: material added to the cap alone. */
export function grownLeading(points: Float64Array): Float64Array {
  const sine = 50 * Math.sin(Math.PI / 9);
  const grown = Float64Array.from(points);
  for (let i = 0; i < points.length / 2; i++) {
    const x = points[2 * i] + sine;
    const y = points[2 * i + 1];
    const d = Math.hypot(x, y);
    if (d >= 0.55) continue;
    grown[2 * i] = -sine + (0.55 * x) / d;
    grown[2 * i + 1] = (0.55 * y) / d;
  }
  return grown;
}
