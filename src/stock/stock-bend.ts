import type { StockCells } from '../model/stock-cells.ts';

/** Variance of the places of a cell's points along u and height (mm²). */
export interface PlaceSpread {
  u: Float64Array;
  height: Float64Array;
}

/**
 * Turns the mean stock of each cell into the stock at its mean place: a mean over a bent field is off by half the second
 * derivative times the variance of the places, mean = f + (f_uu var_u + f_zz var_z) / 2 (Taylor). The second derivatives
 * are those of the neighbouring cells, the smallest of a cell and its two neighbours where all bend alike, else none, so
 * that a step or a lone cell makes nothing of itself. Cells without measured neighbours stay as they are.
 * @param groups first cell of each group of columns, and the number of cells; within a group heights rise
 * @param period of `u`, the trailing edge joining the last group to the first (mm)
 */
export function straightenCells(cells: StockCells, groups: Int32Array, spread: PlaceSpread, period: number): void {
  const alongSpan = new Float64Array(cells.count).fill(Number.NaN);
  const across = new Float64Array(cells.count).fill(Number.NaN);
  const count = groups.length - 1;
  const { stock, u, height } = cells;
  const low = beside();
  const high = beside();
  const near = (group: number, k: number, side: -1 | 1, values: Float64Array, out: Beside): void => {
    const next = (group + side + count) % count;
    besideAt(cells, groups[next], groups[next + 1], height[k], values, out);
    if (next !== group + side) out.u += side * period;
  };
  for (let group = 0; group < count; group++) {
    for (let k = groups[group]; k < groups[group + 1]; k++) {
      if (k > groups[group] && k + 1 < groups[group + 1])
        alongSpan[k] = bend(height[k - 1], stock[k - 1], height[k], stock[k], height[k + 1], stock[k + 1]);
      near(group, k, -1, stock, low);
      near(group, k, 1, stock, high);
      across[k] = bend(low.u, low.value, u[k], stock[k], high.u, high.value);
    }
  }
  const added = new Float64Array(cells.count);
  for (let group = 0; group < count; group++) {
    for (let k = groups[group]; k < groups[group + 1]; k++) {
      near(group, k, -1, across, low);
      near(group, k, 1, across, high);
      const upper = k + 1 < groups[group + 1] ? alongSpan[k + 1] : Number.NaN;
      const lower = k > groups[group] ? alongSpan[k - 1] : Number.NaN;
      added[k] =
        (commonBend(low.value, across[k], high.value) * spread.u[k] +
          commonBend(lower, alongSpan[k], upper) * spread.height[k]) /
        2;
    }
  }
  for (let k = 0; k < cells.count; k++) stock[k] -= added[k];
}

/** Position and value of a neighbouring group at a height. */
interface Beside {
  u: number;
  value: number;
}

function beside(): Beside {
  return { u: 0, value: 0 };
}

/** Writes place and value of a group at a height, straight between its cells, the end cell's beyond them. */
function besideAt(
  cells: StockCells,
  from: number,
  to: number,
  height: number,
  values: Float64Array,
  out: Beside,
): void {
  let [low, high] = [from, to - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (cells.height[middle] <= height) low = middle;
    else high = middle;
  }
  const span = cells.height[high] - cells.height[low];
  const part = span > 0 ? Math.min(Math.max((height - cells.height[low]) / span, 0), 1) : 0;
  out.u = part === 1 ? cells.u[high] : (1 - part) * cells.u[low] + part * cells.u[high];
  out.value = part === 0 ? values[low] : part === 1 ? values[high] : (1 - part) * values[low] + part * values[high];
}

/** Second derivative of the parabola through three points. */
function bend(xa: number, a: number, xb: number, b: number, xc: number, c: number): number {
  return (2 * ((c - b) / (xc - xb) - (b - a) / (xb - xa))) / (xc - xa);
}

/** The bend nearest 0 where all three bend alike, else 0. */
function commonBend(a: number, b: number, c: number): number {
  if (!(a * b > 0 && b * c > 0)) return 0;
  return Math.sign(b) * Math.min(Math.abs(a), Math.abs(b), Math.abs(c));
}
