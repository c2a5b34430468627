import { solveSmall } from './solve-small.ts';

/** Earlier iterates and steps remembered. */
const DEPTH = 5;

/** Memory of a fixed-point iteration x ← x + f(x). */
export interface SecantMemory {
  x: Float64Array | null;
  f: Float64Array | null;
  dx: Float64Array[];
  df: Float64Array[];
}

export function secantMemory(): SecantMemory {
  return { x: null, f: null, dx: [], df: [] };
}

/** Forgets the last iterate but keeps what was learnt of how f changes. */
export function breakSecant(memory: SecantMemory): void {
  memory.x = null;
  memory.f = null;
}

/**
 * Returns the step from `x` that Anderson's method (1965) makes of the plain step `f`: earlier differences tell how f
 * changes with x, so that slow linear convergence becomes fast. All vectors in like units; falls back to `f`.
 */
export function secantStep(memory: SecantMemory, x: Float64Array, f: Float64Array): Float64Array {
  if (memory.x !== null && memory.f !== null) {
    if (norm(f) > 2 * norm(memory.f)) {
      memory.dx.length = 0;
      memory.df.length = 0;
    } else {
      memory.dx.push(difference(x, memory.x));
      memory.df.push(difference(f, memory.f));
      if (memory.dx.length > DEPTH) {
        memory.dx.shift();
        memory.df.shift();
      }
    }
  }
  memory.x = x.slice();
  memory.f = f.slice();
  const depth = memory.df.length;
  if (depth === 0) return f;
  const lengths = memory.df.map(norm);
  const matrix = new Float64Array(depth * depth);
  const right = new Float64Array(depth);
  for (let i = 0; i < depth; i++) {
    right[i] = dot(memory.df[i], f) / lengths[i];
    for (let j = 0; j < depth; j++) matrix[i * depth + j] = dot(memory.df[i], memory.df[j]) / (lengths[i] * lengths[j]);
    matrix[i * depth + i] *= 1 + 1e-12;
  }
  const gamma = solveSmall(matrix, right, depth);
  if (gamma === null) return f;
  const step = f.slice();
  for (let i = 0; i < depth; i++)
    for (let c = 0; c < step.length; c++) step[c] -= (gamma[i] / lengths[i]) * (memory.dx[i][c] + memory.df[i][c]);
  return step.every(Number.isFinite) && norm(step) < 20 * norm(f) ? step : f;
}

function difference(a: Float64Array, b: Float64Array): Float64Array {
  return a.map((value, i) => value - b[i]);
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}

function norm(a: Float64Array): number {
  return Math.sqrt(dot(a, a));
}
