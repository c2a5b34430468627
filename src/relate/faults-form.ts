import { simplexSearch } from '../math/simplex-search.ts';

/** A defect's form: a pit or bump of one of several profiles over an oblong. */
export interface FaultForm {
  /** Signed departure at the deepest place (mm) and its standard uncertainty. */
  depth: number;
  uDepth: number;
  /** Centre and half extents along the outline and the span (mm), where the departure ends. */
  x: number;
  y: number;
  halfWidth: number;
  halfLength: number;
  profile: FaultProfile;
}

/** Departure over depth at (a, b), both −1 … 1 over the extents. */
type FaultProfile = (a: number, b: number) => number;

/** Points round a defect: place along outline and span (mm) and departure (mm). */
export interface FaultPoints {
  x: Float64Array;
  y: Float64Array;
  departure: Float64Array;
}

/** Share of the depth by which a real defect differs from the best of the profiles. */
const MISFIT = 0.03;
/** A squared residual counts for at most this. */
const MOST_SQUARE = 16;
/** From a flat floor with steep walls over a round to a bell-shaped one. */
const EXPONENTS = [0, 0.25, 0.5, 1, 2];

const raised = (v: number, p: number): number => (v <= 0 ? 0 : v ** p);

/** A profile and what it costs beforehand, as a square of standard deviations: pointed and bell-shaped ones are rare. */
interface Candidate {
  profile: FaultProfile;
  price: number;
}
const RARE = 4;
const priceOf = (p: number): number => (p > 1 ? RARE : 0);

/** Pits with walls straight across and along, round ones, cones, and notches across either way. */
const CANDIDATES: readonly Candidate[] = [
  ...EXPONENTS.flatMap((p) =>
    EXPONENTS.map((q) => ({
      profile: (a: number, b: number) => raised(1 - a * a, p) * raised(1 - b * b, q),
      price: priceOf(p) + priceOf(q),
    })),
  ),
  ...EXPONENTS.map((p) => ({ profile: (a: number, b: number) => raised(1 - a * a - b * b, p), price: priceOf(p) })),
  { profile: (a, b) => raised(1 - Math.hypot(a, b), 1), price: RARE },
  ...EXPONENTS.map((p) => ({
    profile: (a: number, b: number) => raised(1 - a * a, p) * raised(1 - Math.abs(b), 1),
    price: RARE + priceOf(p),
  })),
  ...EXPONENTS.map((p) => ({
    profile: (a: number, b: number) => raised(1 - Math.abs(a), 1) * raised(1 - b * b, p),
    price: RARE + priceOf(p),
  })),
];

/**
 * Returns the form fitted to the points of a defect and its surroundings: for each profile the centre, extents and depth
 * of least (robust) squares, then the mean over the profiles weighted by their likelihood.
 * @param box extent of the points that depart: xMin, xMax, yMin, yMax (mm)
 * @param spacing typical distance of the points (mm)
 * @param noise standard deviation of a point (mm)
 */
export function fitFaultForm(
  points: FaultPoints,
  box: readonly [number, number, number, number],
  sign: 1 | -1,
  spacing: number,
  noise: number,
): FaultForm {
  const { x, y, departure } = points;
  const count = x.length;
  const [xMin, xMax, yMin, yMax] = box;
  const most = deepest(points, box, sign);
  const sigma = Math.hypot(noise, MISFIT * most);
  const shape = new Float64Array(count);
  let squares = 0;
  const depthOf = (at: Float64Array, profile: FaultProfile): number => {
    const w = Math.exp(at[2]);
    const l = Math.exp(at[3]);
    let sum = 0;
    squares = 0;
    for (let i = 0; i < count; i++) {
      const a = (x[i] - at[0]) / w;
      const b = (y[i] - at[1]) / l;
      shape[i] = Math.abs(a) >= 1 || Math.abs(b) >= 1 ? 0 : profile(a, b);
      sum += shape[i] * departure[i];
      squares += shape[i] * shape[i];
    }
    return squares > 0 ? sum / squares : 0;
  };
  const cost = (at: Float64Array, profile: FaultProfile): number => {
    const depth = depthOf(at, profile);
    // A depth far beyond the deepest point is not held by the points.
    let sum = Math.max(0, (sign * depth) / most - 1) ** 2 * 8;
    for (let i = 0; i < count; i++) sum += Math.min(MOST_SQUARE, ((departure[i] - depth * shape[i]) / sigma) ** 2);
    return sum;
  };
  const least = 0.3 * spacing;
  const halfWidth = 0.5 * (xMax - xMin) + least;
  const halfLength = 0.5 * (yMax - yMin) + least;
  const start = [0.5 * (xMin + xMax), 0.5 * (yMin + yMax), Math.log(halfWidth), Math.log(halfLength)];
  const steps = [0.3 * halfWidth, 0.3 * halfLength, 0.2, 0.2];
  const fits = CANDIDATES.map(({ profile, price }) => {
    const { at, value } = simplexSearch((p) => cost(p, profile), start, steps, 0.01);
    centreSides(at, value + 1, least, (p) => cost(p, profile));
    const depth = depthOf(at, profile);
    return { at, value: value + price, depth, uDepth: sigma / Math.sqrt(Math.max(squares, 1)), profile };
  });
  const best = fits.reduce((a, b) => (b.value < a.value ? b : a));
  let total = 0;
  const mean = { depth: 0, square: 0, x: 0, y: 0, halfWidth: 0, halfLength: 0 };
  for (const { at, value, depth, uDepth } of fits) {
    const weight = Math.exp(-0.5 * (value - best.value));
    total += weight;
    mean.depth += weight * depth;
    mean.square += weight * (depth * depth + uDepth * uDepth);
    mean.x += weight * at[0];
    mean.y += weight * at[1];
    mean.halfWidth += weight * Math.exp(at[2]);
    mean.halfLength += weight * Math.exp(at[3]);
  }
  const depth = mean.depth / total;
  return {
    depth: sign * Math.max(sign * depth, most - 2 * noise),
    uDepth: Math.sqrt(Math.max(0, mean.square / total - depth * depth)),
    x: mean.x / total,
    y: mean.y / total,
    halfWidth: mean.halfWidth / total,
    halfLength: mean.halfLength / total,
    profile: best.profile,
  };
}

/** Size of the deepest departure within a box, no more than half as much again as the next: a stray may lie in a nick. */
function deepest({ x, y, departure }: FaultPoints, box: readonly number[], sign: 1 | -1): number {
  let first = 0;
  let second = 0;
  for (let i = 0; i < x.length; i++) {
    if (x[i] < box[0] || x[i] > box[1] || y[i] < box[2] || y[i] > box[3]) continue;
    const size = sign * departure[i];
    if (size > first) [first, second] = [size, first];
    else second = Math.max(second, size);
  }
  return Math.min(first, 1.5 * second);
}

/** Moves each side of the oblong to the middle of the stretch over which the cost stays below a level. */
function centreSides(at: Float64Array, level: number, step: number, cost: (at: Float64Array) => number): void {
  const trial = at.slice();
  for (const axis of [0, 1]) {
    for (const side of [-1, 1]) {
      const centre = at[axis];
      const half = Math.exp(at[axis + 2]);
      const fixed = centre - side * half;
      const moved = (shift: number): number => {
        const end = centre + side * (half + shift);
        trial.set(at);
        trial[axis] = 0.5 * (fixed + end);
        trial[axis + 2] = Math.log(0.5 * Math.abs(end - fixed));
        return cost(trial);
      };
      const reach = (way: 1 | -1): number => {
        const limit = way < 0 ? Math.min(4 * step, 1.8 * half) : 4 * step;
        let low = 0;
        let high = limit / 32;
        while (high < limit && moved(way * high) <= level) {
          low = high;
          high = Math.min(limit, high * 1.6);
        }
        for (let turn = 0; turn < 6; turn++) {
          const middle = 0.5 * (low + high);
          if (moved(way * middle) <= level) low = middle;
          else high = middle;
        }
        return way * low;
      };
      moved(0.5 * (reach(1) + reach(-1)));
      at.set(trial);
    }
  }
}
