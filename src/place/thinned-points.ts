import { seededRandom } from '../math/random.ts';
import { mortonOrder } from '../spatial/morton-order.ts';

const SEED = 20_011;
/** First parts of the list that stay even samples. */
const BLOCKS = [0, 120, 300, 1200, 3000];

/**
 * Returns points spread about evenly over what was measured: the first point of each occupied cube, in a shuffled order
 * that is the same every time, so that any first part of the list is an even sample too.
 * @param points x0, y0, z0, … (mm)
 * @param edge edge of the cubes (mm); halved until `least` points remain or all are taken
 */
export function thinnedPoints(points: Float64Array, edge: number, least = 1500): Float64Array {
  const count = points.length / 3;
  let picked = firstOfCubes(points, edge);
  for (let halvings = 0; picked.length < Math.min(least, count) && halvings < 12; halvings++) {
    edge /= 2;
    picked = firstOfCubes(points, edge);
  }
  const uniform = seededRandom(SEED);
  for (let i = picked.length - 1; i > 0; i--) {
    const j = Math.floor(uniform() * (i + 1));
    [picked[i], picked[j]] = [picked[j], picked[i]];
  }
  const out = new Float64Array(3 * picked.length);
  for (let i = 0; i < picked.length; i++) for (let c = 0; c < 3; c++) out[3 * i + c] = points[3 * picked[i] + c];
  for (let b = 0; b + 1 < BLOCKS.length; b++) sortBlock(out, BLOCKS[b], Math.min(BLOCKS[b + 1], picked.length));
  return out;
}

/** Puts the points of a block in an order of neighbours, which makes looking them up faster. */
function sortBlock(points: Float64Array, from: number, to: number): void {
  if (to <= from) return;
  const block = points.slice(3 * from, 3 * to);
  mortonOrder(block).forEach((i, k) => {
    points.set(block.subarray(3 * i, 3 * i + 3), 3 * (from + k));
  });
}

/** Indices of the first point in each occupied cube, by open addressing on the cubes' integer coordinates. */
function firstOfCubes(points: Float64Array, edge: number): Int32Array {
  const count = points.length / 3;
  let bits = 4;
  while (1 << bits < 2 * count) bits++;
  const mask = (1 << bits) - 1;
  const slots = new Int32Array(1 << bits).fill(-1);
  const cubes = new Int32Array(3 * count);
  const picked = new Int32Array(count);
  let kept = 0;
  for (let i = 0; i < count; i++) {
    const x = Math.floor(points[3 * i] / edge) | 0;
    const y = Math.floor(points[3 * i + 1] / edge) | 0;
    const z = Math.floor(points[3 * i + 2] / edge) | 0;
    let slot = (Math.imul(x, 73856093) ^ Math.imul(y, 19349663) ^ Math.imul(z, 83492791)) & mask;
    for (;;) {
      const at = slots[slot];
      if (at < 0) {
        slots[slot] = kept;
        cubes[3 * kept] = x;
        cubes[3 * kept + 1] = y;
        cubes[3 * kept + 2] = z;
        picked[kept++] = i;
        break;
      }
      if (cubes[3 * at] === x && cubes[3 * at + 1] === y && cubes[3 * at + 2] === z) break;
      slot = (slot + 1) & mask;
    }
  }
  return picked.slice(0, kept);
}
