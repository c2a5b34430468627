/** Doubles a triangle in `blocks`. */
export const BLOCK_SIZE = 12;

/** Triangles whose height is below this many rounding steps of their coordinates count as segments. */
const FLAT_STEPS = 16;

/**
 * Writes the block of one triangle: first corner (3), edges to the second and third corner (3 + 3), then the dot
 * products first·first, first·second, second·second of the edges. A triangle without area becomes its longest side:
 * its corners are turned so that the first edge is that side, and the second edge is zero.
 *
 * @param corners the three vertex numbers at `3·k`; reordered for a triangle without area.
 */
export function writeBlock(blocks: Float64Array, k: number, positions: Float64Array, corners: Uint32Array): void {
  const at = BLOCK_SIZE * k;
  const a = 3 * corners[3 * k];
  const b = 3 * corners[3 * k + 1];
  const c = 3 * corners[3 * k + 2];
  const x = positions[a];
  const y = positions[a + 1];
  const z = positions[a + 2];
  const ux = positions[b] - x;
  const uy = positions[b + 1] - y;
  const uz = positions[b + 2] - z;
  const vx = positions[c] - x;
  const vy = positions[c + 1] - y;
  const vz = positions[c + 2] - z;
  const uu = ux * ux + uy * uy + uz * uz;
  const uv = ux * vx + uy * vy + uz * vz;
  const vv = vx * vx + vy * vy + vz * vz;
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const ww = uu + vv - 2 * uv;
  const longest = Math.max(uu, vv, ww);
  const reach = Math.abs(x) + Math.abs(y) + Math.abs(z);
  const step = FLAT_STEPS * Number.EPSILON * (reach + Math.sqrt(longest));
  blocks[at] = x;
  blocks[at + 1] = y;
  blocks[at + 2] = z;
  blocks[at + 3] = ux;
  blocks[at + 4] = uy;
  blocks[at + 5] = uz;
  blocks[at + 6] = vx;
  blocks[at + 7] = vy;
  blocks[at + 8] = vz;
  blocks[at + 9] = uu;
  blocks[at + 10] = uv;
  blocks[at + 11] = vv;
  // Twice the area squared against (longest side · step) squared.
  if (!(nx * nx + ny * ny + nz * nz > longest * step * step)) writeSegment(blocks, k, positions, corners, uu, vv, ww);
}

function writeSegment(
  blocks: Float64Array,
  k: number,
  positions: Float64Array,
  corners: Uint32Array,
  uu: number,
  vv: number,
  ww: number,
): void {
  const first = 3 * k;
  const [p, q, r] = [corners[first], corners[first + 1], corners[first + 2]];
  if (ww > uu && ww >= vv) corners.set([q, r, p], first);
  else if (vv > uu) corners.set([r, p, q], first);
  const a = 3 * corners[first];
  const b = 3 * corners[first + 1];
  const at = BLOCK_SIZE * k;
  let square = 0;
  for (let i = 0; i < 3; i++) {
    const d = positions[b + i] - positions[a + i];
    blocks[at + i] = positions[a + i];
    blocks[at + 3 + i] = d;
    square += d * d;
  }
  blocks.fill(0, at + 6, at + 12);
  blocks[at + 9] = square;
}
