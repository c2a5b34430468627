import { flatCut, HARMONICS, harmonics } from './flats-cut.ts';
import { type EdgePatch, stationNear } from './flats-edge.ts';

/** A stretch of an edge that a flat may run along. */
export interface FlatRun {
  /** Angle of the flat's normal from the nose's (rad) and its sagitta (mm). */
  centre: number;
  sagitta: number;
  /** Heights (mm). */
  from: number;
  to: number;
  /** Gain of likelihood over the edge without it: squares of standard deviations. */
  gain: number;
}

const DEG = Math.PI / 180;
const CENTRES = Array.from({ length: 11 }, (_, k) => (k - 5) * 10 * DEG);
const SAGITTAS = [0.007, 0.011, 0.017, 0.026, 0.042, 0.07];
/** Strips across an edge (mm of span). */
const STRIP = 0.5;
/** Strips of local runs, and those either side that tell what is there without a flat. */
const LENGTHS = [2, 3, 5, 8];
const MARGIN = 5;
/** Strips that together tell a flat without its ends: of runs longer than the local ones. */
const TOGETHER = 4;
/** The edge's smooth form changes along the span by a quadratic. */
const POWERS = 3;
const TERMS = HARMONICS * POWERS;
/** Fewer points a millimetre of span say nothing. */
const LEAST_POINTS = 6;
const LEAST_GAIN = 16;
const MOST_RUNS = 8;

/**
 * Returns the likeliest places of flats, best first and none beside another, and how many were tried: runs along the span
 * of a chord cut of each place and depth, against an edge whose harmonics (see `HARMONICS`) change smoothly along the span
 * or, for long runs, are free in each 2 mm of it.
 * @param deviation of the patch's points, without strays (mm)
 */
export function scanFlats(
  patch: EdgePatch,
  deviation: Float64Array,
  sigma: number,
): { runs: FlatRun[]; tests: number } {
  const strips = stripSums(patch, deviation);
  if (!strips) return { runs: [], tests: 0 };
  const runs = [...localRuns(strips, sigma), ...longRuns(strips, sigma)].sort((a, b) => b.gain - a.gain);
  const apart: FlatRun[] = [];
  for (const run of runs)
    if (apart.length < MOST_RUNS && apart.every(({ from, to }) => run.to <= from || run.from >= to)) apart.push(run);
  const tests = strips.count * (LENGTHS.length + strips.count / TOGETHER ** 2) * CENTRES.length * SAGITTAS.length;
  return { runs: apart, tests };
}

/** Sums over the points of each strip. */
interface Strips {
  low: number;
  count: number;
  /** Of products of harmonics, and of harmonics and deviations. */
  products: Float64Array;
  deviations: Float64Array;
  /** By flat (place and depth): of its cut times the harmonics, its square, and times the deviations. */
  flats: { centre: number; sagitta: number }[];
  cuts: Float64Array;
  squares: Float64Array;
  crosses: Float64Array;
}

function stripSums(patch: EdgePatch, deviation: Float64Array): Strips | null {
  const { table, height, angle } = patch;
  const n = height.length;
  const low = height[0];
  const span = height[n - 1] - low;
  if (!(span >= 2 * STRIP) || n < LEAST_POINTS * span) return null;
  const count = Math.floor(span / STRIP);
  const bins = table.length;
  const held = new Float64Array(count * bins);
  const sum = new Float64Array(count * bins);
  for (let i = 0; i < n; i++) {
    const s = Math.min(count - 1, Math.floor((height[i] - low) / STRIP));
    const k = Math.round((angle[i] - table[0]) / (table[1] - table[0]));
    held[s * bins + k]++;
    sum[s * bins + k] += deviation[i];
  }
  const waves = new Float64Array(bins * HARMONICS);
  for (let k = 0; k < bins; k++) harmonics(table[k], waves.subarray(k * HARMONICS, (k + 1) * HARMONICS));
  const flats = CENTRES.flatMap((centre) => SAGITTAS.map((sagitta) => ({ centre, sagitta })));
  const products = new Float64Array(count * HARMONICS * HARMONICS);
  const deviations = new Float64Array(count * HARMONICS);
  const cuts = new Float64Array(count * flats.length * HARMONICS);
  const squares = new Float64Array(count * flats.length);
  const crosses = new Float64Array(count * flats.length);
  let known: (Float64Array | null)[] = [];
  let station = patch.stations[0];
  for (let s = 0; s < count; s++) {
    const near = stationNear(patch, low + (s + 0.5) * STRIP);
    if (near !== station || s === 0) {
      station = near;
      known = flats.map(({ centre, sagitta }) => flatCut(near, centre, sagitta)?.departure ?? null);
    }
    for (let k = 0; k < bins; k++) {
      const h = held[s * bins + k];
      if (h === 0) continue;
      for (let a = 0; a < HARMONICS; a++) {
        const wave = waves[k * HARMONICS + a];
        deviations[s * HARMONICS + a] += wave * sum[s * bins + k];
        for (let b = 0; b < HARMONICS; b++)
          products[(s * HARMONICS + a) * HARMONICS + b] += h * wave * waves[k * HARMONICS + b];
      }
    }
    for (const [f, cut] of known.entries()) {
      if (!cut) continue;
      const at = s * flats.length + f;
      for (let k = 0; k < bins; k++) {
        const h = held[s * bins + k];
        if (h === 0 || cut[k] === 0) continue;
        squares[at] += h * cut[k] * cut[k];
        crosses[at] += cut[k] * sum[s * bins + k];
        for (let a = 0; a < HARMONICS; a++) cuts[at * HARMONICS + a] += h * cut[k] * waves[k * HARMONICS + a];
      }
    }
  }
  return { low, count, products, deviations, flats, cuts, squares, crosses };
}

/** Runs of up to 4 mm against the smooth form of what lies round them: the best flat of each. */
function localRuns(strips: Strips, sigma: number): FlatRun[] {
  const { low, count, products, deviations, flats, cuts, squares, crosses } = strips;
  const found: FlatRun[] = [];
  const matrix = new Float64Array(TERMS * TERMS);
  const right = new Float64Array(TERMS);
  const mixed = new Float64Array(TERMS);
  for (const length of LENGTHS) {
    for (let start = 0; start + length <= count; start++) {
      const first = Math.max(0, start - MARGIN);
      const last = Math.min(count, start + length + MARGIN);
      const middle = 0.5 * (first + last - 1);
      const place = (s: number) => (2 * (s - middle)) / (last - first);
      matrix.fill(0);
      right.fill(0);
      for (let s = first; s < last; s++) {
        const z = place(s);
        for (let a = 0; a < TERMS; a++) {
          const [i, p] = [a % HARMONICS, Math.floor(a / HARMONICS)];
          right[a] += z ** p * deviations[s * HARMONICS + i];
          for (let b = 0; b <= a; b++) {
            const power = p + Math.floor(b / HARMONICS);
            matrix[a * TERMS + b] += z ** power * products[(s * HARMONICS + i) * HARMONICS + (b % HARMONICS)];
          }
        }
      }
      factor(matrix, TERMS);
      forward(matrix, right, TERMS);
      let best = LEAST_GAIN;
      let which = -1;
      for (let f = 0; f < flats.length; f++) {
        let [square, cross] = [0, 0];
        mixed.fill(0);
        for (let s = start; s < start + length; s++) {
          const at = s * flats.length + f;
          square += squares[at];
          cross += crosses[at];
          const z = place(s);
          for (let a = 0; a < HARMONICS; a++) {
            const value = cuts[at * HARMONICS + a];
            mixed[a] += value;
            mixed[HARMONICS + a] += z * value;
            mixed[2 * HARMONICS + a] += z * z * value;
          }
        }
        // What the form takes away only lowers the square.
        if (square < LEAST_GAIN * sigma * sigma) continue;
        forward(matrix, mixed, TERMS);
        const gain = gainOf(square, cross, mixed, right, TERMS, sigma);
        if (gain > best) [best, which] = [gain, f];
      }
      if (which < 0) continue;
      found.push({ ...flats[which], from: low + start * STRIP, to: low + (start + length) * STRIP, gain: best });
    }
  }
  return found;
}

/** For each flat the run along the span with the largest sum of gains, the form free in each few strips. */
function longRuns(strips: Strips, sigma: number): FlatRun[] {
  const { low, count, products, deviations, flats, cuts, squares, crosses } = strips;
  const groups = Math.floor(count / TOGETHER);
  const gains = new Float64Array(groups * flats.length);
  const size = HARMONICS * HARMONICS;
  const summed = (values: Float64Array, width: number, group: number, offset: number, stride: number) =>
    Float64Array.from({ length: width }, (_, a) => {
      let sum = 0;
      for (let s = group * TOGETHER; s < (group + 1) * TOGETHER; s++) sum += values[s * stride + offset + a];
      return sum;
    });
  for (let g = 0; g < groups; g++) {
    const matrix = summed(products, size, g, 0, size);
    const right = summed(deviations, HARMONICS, g, 0, HARMONICS);
    factor(matrix, HARMONICS);
    forward(matrix, right, HARMONICS);
    for (let f = 0; f < flats.length; f++) {
      const mixed = summed(cuts, HARMONICS, g, f * HARMONICS, flats.length * HARMONICS);
      forward(matrix, mixed, HARMONICS);
      const [square] = summed(squares, 1, g, f, flats.length);
      const [cross] = summed(crosses, 1, g, f, flats.length);
      gains[g * flats.length + f] = gainOf(square, cross, mixed, right, HARMONICS, sigma);
    }
  }
  const long = STRIP * TOGETHER;
  const found = flats.map((flat, f): FlatRun => {
    let best = { from: 0, to: 0, gain: 0 };
    let sum = 0;
    let start = 0;
    for (let g = 0; g < groups; g++) {
      if (sum <= 0) [sum, start] = [0, g];
      sum += gains[g * flats.length + f];
      if (sum > best.gain) best = { from: start, to: g + 1, gain: sum };
    }
    return { ...flat, from: low + best.from * long, to: low + best.to * long, gain: best.gain };
  });
  return found.filter(({ gain }) => gain > LEAST_GAIN);
}

function gainOf(
  square: number,
  cross: number,
  mixed: Float64Array,
  right: Float64Array,
  size: number,
  sigma: number,
): number {
  let [ownSquare, ownCross] = [square, cross];
  for (let a = 0; a < size; a++) {
    ownSquare -= mixed[a] * mixed[a];
    ownCross -= mixed[a] * right[a];
  }
  return (2 * ownCross - ownSquare) / (sigma * sigma);
}

/** Cholesky factor in the lower half, in place; directions without points get no say. */
function factor(matrix: Float64Array, size: number): void {
  for (let i = 0; i < size; i++) {
    const scale = matrix[i * size + i];
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * size + j];
      for (let k = 0; k < j; k++) sum -= matrix[i * size + k] * matrix[j * size + k];
      if (j < i) matrix[i * size + j] = sum / matrix[j * size + j];
      else matrix[i * size + i] = sum > 1e-6 * scale ? Math.sqrt(sum) : Infinity;
    }
  }
}

/** Solves with the factor, in place. */
function forward(factored: Float64Array, values: Float64Array, size: number): void {
  for (let i = 0; i < size; i++) {
    let sum = values[i];
    for (let k = 0; k < i; k++) sum -= factored[i * size + k] * values[k];
    values[i] = sum / factored[i * size + i];
  }
}
