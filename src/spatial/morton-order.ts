/** Spreads the low ten bits of `v` to every third bit. */
function spread(v: number): number {
  v = (v | (v << 16)) & 0x030000ff;
  v = (v | (v << 8)) & 0x0300f00f;
  v = (v | (v << 4)) & 0x030c30c3;
  return (v | (v << 2)) & 0x09249249;
}

const BITS = 10;
const CELLS = 1 << BITS;

/** Table of `spread`, so that a key costs three reads. */
const SPREAD = Uint32Array.from({ length: CELLS }, (_, i) => spread(i));

/** Returns 30-bit Z-curve keys over cubes of 1/1024 of the longest side of the points' box. */
function mortonKeys(points: Float64Array, count: number): Uint32Array {
  let x0 = Infinity;
  let y0 = Infinity;
  let z0 = Infinity;
  let x1 = -Infinity;
  let y1 = -Infinity;
  let z1 = -Infinity;
  for (let i = 0; i < 3 * count; i += 3) {
    const x = points[i];
    const y = points[i + 1];
    const z = points[i + 2];
    if (x < x0) x0 = x;
    if (x > x1) x1 = x;
    if (y < y0) y0 = y;
    if (y > y1) y1 = y;
    if (z < z0) z0 = z;
    if (z > z1) z1 = z;
  }
  const side = Math.max(x1 - x0, y1 - y0, z1 - z0);
  const scale = side > 0 && side < Infinity ? (CELLS * (1 - 1e-12)) / side : 0;
  const keys = new Uint32Array(count);
  for (let i = 0, k = 0; i < count; i++, k += 3) {
    const a = ((points[k] - x0) * scale) & (CELLS - 1);
    const b = ((points[k + 1] - y0) * scale) & (CELLS - 1);
    const c = ((points[k + 2] - z0) * scale) & (CELLS - 1);
    keys[i] = SPREAD[a] | (SPREAD[b] << 1) | (SPREAD[c] << 2);
  }
  return keys;
}

/**
 * Returns the permutation that visits the points along a Z-curve, so that neighbours in the order are neighbours in
 * space. Stable radix sort of 30-bit Morton keys in three passes of ten bits.
 *
 * @param points x0, y0, z0, x1, … in any unit. Points that are not finite keep a place in the order.
 */
export function mortonOrder(points: Float64Array): Uint32Array {
  const count = Math.floor(points.length / 3);
  let keys: Uint32Array = mortonKeys(points, count);
  const starts = new Uint32Array(3 * CELLS);
  for (let i = 0; i < count; i++) {
    const key = keys[i];
    starts[key & 1023]++;
    starts[CELLS + ((key >>> 10) & 1023)]++;
    starts[2 * CELLS + (key >>> 20)]++;
  }
  for (let pass = 0; pass < 3; pass++) {
    let sum = 0;
    for (let d = pass * CELLS; d < (pass + 1) * CELLS; d++) {
      const size = starts[d];
      starts[d] = sum;
      sum += size;
    }
  }
  let order: Uint32Array = new Uint32Array(count);
  let nextKeys: Uint32Array = new Uint32Array(count);
  for (let i = 0; i < count; i++) {
    const to = starts[keys[i] & 1023]++;
    nextKeys[to] = keys[i];
    order[to] = i;
  }
  let nextOrder: Uint32Array = new Uint32Array(count);
  for (let pass = 1; pass < 3; pass++) {
    [keys, nextKeys] = [nextKeys, keys];
    const shift = BITS * pass;
    const base = pass * CELLS;
    for (let i = 0; i < count; i++) {
      const key = keys[i];
      const to = starts[base + ((key >>> shift) & 1023)]++;
      nextKeys[to] = key;
      nextOrder[to] = order[i];
    }
    [order, nextOrder] = [nextOrder, order];
  }
  return order;
}
