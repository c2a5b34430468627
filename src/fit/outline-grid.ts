import type { Outline } from '../model/outline.ts';
import { evaluatePiece, outlinePieces } from './outline-pieces.ts';

/** Short stretches of an outline with bounding circles, in groups: what a nearest-place search starts from. */
export interface OutlineGrid {
  /** Start parameter of each stretch and, last, the end of the period. */
  from: Float64Array;
  /** Polynomial span each stretch lies in. */
  span: Int32Array;
  /** Bounding circle of each stretch (mm). */
  centreX: Float64Array;
  centreY: Float64Array;
  radius: Float64Array;
  /** Stretches a group, and bounding circles of the groups. */
  groupSize: number;
  groupX: Float64Array;
  groupY: Float64Array;
  groupRadius: Float64Array;
}

const STRETCHES_A_SPAN = 2;
const cache = new WeakMap<Outline, OutlineGrid>();

/** Returns the search record of an outline; made once and kept while the outline lives. */
export function outlineGrid(outline: Outline): OutlineGrid {
  let grid = cache.get(outline);
  if (!grid) {
    grid = makeGrid(outline);
    cache.set(outline, grid);
  }
  return grid;
}

function makeGrid(outline: Outline): OutlineGrid {
  const pieces = outlinePieces(outline);
  const { breaks } = pieces;
  const spans = breaks.length - 1;
  const perSpan = Math.max(STRETCHES_A_SPAN, Math.ceil(48 / spans));
  const count = spans * perSpan;
  const from = new Float64Array(count + 1);
  const span = new Int32Array(count);
  const centreX = new Float64Array(count);
  const centreY = new Float64Array(count);
  const radius = new Float64Array(count);
  const out = new Float64Array(8);
  for (let s = 0; s < spans; s++) {
    const width = (breaks[s + 1] - breaks[s]) / perSpan;
    for (let j = 0; j < perSpan; j++) {
      const i = s * perSpan + j;
      from[i] = breaks[s] + j * width;
      span[i] = s;
      evaluatePiece(pieces, s, (j + 0.5) * width, out);
      centreX[i] = out[0];
      centreY[i] = out[1];
      radius[i] = reach(pieces, s, (j + 0.5) * width, 0.5 * width, out);
    }
  }
  from[count] = breaks[spans];
  const groupSize = Math.max(4, Math.round(Math.sqrt(count) / 2));
  const groups = Math.ceil(count / groupSize);
  const groupX = new Float64Array(groups);
  const groupY = new Float64Array(groups);
  const groupRadius = new Float64Array(groups);
  for (let g = 0; g < groups; g++) {
    const start = g * groupSize;
    const end = Math.min(count, start + groupSize);
    for (let i = start; i < end; i++) {
      groupX[g] += centreX[i] / (end - start);
      groupY[g] += centreY[i] / (end - start);
    }
    for (let i = start; i < end; i++) {
      const far = Math.hypot(centreX[i] - groupX[g], centreY[i] - groupY[g]) + radius[i];
      groupRadius[g] = Math.max(groupRadius[g], far);
    }
  }
  return { from, span, centreX, centreY, radius, groupSize, groupX, groupY, groupRadius };
}

/** Bound of the distance from a stretch's middle: Taylor's terms up to the degree, each at its largest. */
function reach(
  pieces: ReturnType<typeof outlinePieces>,
  span: number,
  middle: number,
  half: number,
  out: Float64Array,
): number {
  const { degree, coefficients } = pieces;
  evaluatePiece(pieces, span, middle, out);
  let bound = Math.hypot(out[2], out[3]) * half + (Math.hypot(out[4], out[5]) * half * half) / 2;
  bound += (Math.hypot(out[6], out[7]) * half ** 3) / 6;
  const at = span * 2 * (degree + 1);
  for (let power = 4; power <= degree; power++) {
    let binomial = 1;
    let tail = 0;
    for (let i = 0; i <= power; i++) {
      if (i > 3) tail += binomial * middle ** (power - i) * half ** i;
      binomial = (binomial * (power - i)) / (i + 1);
    }
    bound += Math.hypot(coefficients[at + power], coefficients[at + degree + 1 + power]) * tail;
  }
  return bound;
}
