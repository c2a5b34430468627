import type { StockCells } from '../model/stock-cells.ts';

/** Variance of the places of a cell's points along u and height (mm²). */
export interface PlaceSpread {
  u: Float64Array;
  height: Float64Array;
}

/**
 * Turns the mean stock of each cell into the stock at its place, and moves the place to where the stock is least or most
 * in or beside the cell, so that an extreme is not missed between the cells' middles. A mean over a bent field is off by half the
 * second derivative times the variance of the places, mean = f + (f_uu var_u + f_zz var_z) / 2 (Taylor); the parabola of
 * slope and bend has its vertex at −f_u / f_uu, lower by f_u² / (2 f_uu). Slopes and bends are those of the neighbouring
 * cells, the bend the smallest of a cell and its two neighbours where all bend alike, else none, so that a step or a lone
 * cell makes nothing of itself. Cells without measured neighbours stay as they are.
 * @param groups first cell of each group of columns, and the number of cells; within a group heights rise
 * @param period of `u`, the trailing edge joining the last group to the first (mm)
 */
export function straightenCells(cells: StockCells, groups: Int32Array, spread: PlaceSpread, period: number): void {
  const span = parabolas(cells.count);
  const outline = parabolas(cells.count);
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
        parabola(height[k - 1], stock[k - 1], height[k], stock[k], height[k + 1], stock[k + 1], span, k);
      near(group, k, -1, stock, low);
      near(group, k, 1, stock, high);
      parabola(low.u, low.value, u[k], stock[k], high.u, high.value, outline, k);
    }
  }
  const added = new Float64Array(cells.count);
  const movedU = new Float64Array(cells.count);
  const movedHeight = new Float64Array(cells.count);
  for (let group = 0; group < count; group++) {
    for (let k = groups[group]; k < groups[group + 1]; k++) {
      near(group, k, -1, outline.bend, low);
      near(group, k, 1, outline.bend, high);
      const across = commonBend(low.value, outline.bend[k], high.value);
      const above = k + 1 < groups[group + 1] ? span.bend[k + 1] : Number.NaN;
      const below = k > groups[group] ? span.bend[k - 1] : Number.NaN;
      const up = commonBend(below, span.bend[k], above);
      movedU[k] = vertex(outline.slope[k], across, spread.u[k]);
      movedHeight[k] = vertex(span.slope[k], up, spread.height[k]);
      added[k] =
        (across * (movedU[k] ** 2 - spread.u[k]) + up * (movedHeight[k] ** 2 - spread.height[k])) / 2 +
        (movedU[k] === 0 ? 0 : outline.slope[k] * movedU[k]) +
        (movedHeight[k] === 0 ? 0 : span.slope[k] * movedHeight[k]);
    }
  }
  for (let k = 0; k < cells.count; k++) {
    stock[k] += added[k];
    u[k] += movedU[k];
    height[k] += movedHeight[k];
  }
}

/** Slope and second derivative at each cell in one direction, NaN where not known. */
interface Parabolas {
  slope: Float64Array;
  bend: Float64Array;
}

function parabolas(count: number): Parabolas {
  return { slope: new Float64Array(count).fill(Number.NaN), bend: new Float64Array(count).fill(Number.NaN) };
}

/** How far out of a cell its vertex may lie, in half widths: near a border noise may put it outside of both cells. */
const VERTEX_REACH = 1.5;

/** Distance to the vertex where it lies in or beside the cell, else 0. Even spread of variance v reaches √(3 v) either way. */
function vertex(slope: number, bend: number, variance: number): number {
  const distance = -slope / bend;
  return Number.isFinite(distance) && distance * distance <= 3 * variance * VERTEX_REACH ** 2 ? distance : 0;
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

/** Writes slope at the middle and second derivative of the parabola through three points. */
function parabola(
  xa: number,
  a: number,
  xb: number,
  b: number,
  xc: number,
  c: number,
  out: Parabolas,
  k: number,
): void {
  const before = (b - a) / (xb - xa);
  const after = (c - b) / (xc - xb);
  out.slope[k] = (before * (xc - xb) + after * (xb - xa)) / (xc - xa);
  out.bend[k] = (2 * (after - before)) / (xc - xa);
}

/** The bend nearest 0 where all three bend alike, else 0. */
function commonBend(a: number, b: number, c: number): number {
  if (!(a * b > 0 && b * c > 0)) return 0;
  return Math.sign(b) * Math.min(Math.abs(a), Math.abs(b), Math.abs(c));
}
