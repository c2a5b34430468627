const scratch = new Float64Array(3);
const words = new Uint32Array(scratch.buffer);

/** Returns a 32-bit hash of the bits of three doubles; −0 counts as +0. */
export function hashPoint(x: number, y: number, z: number): number {
  scratch[0] = x + 0;
  scratch[1] = y + 0;
  scratch[2] = z + 0;
  let h = Math.imul(words[0] ^ Math.imul(words[1], 0x85ebca6b), 0x9e3779b1);
  h = Math.imul((h ^ (h >>> 15) ^ words[2] ^ Math.imul(words[3], 0xc2b2ae35)) | 0, 0x85ebca77);
  h = Math.imul((h ^ (h >>> 13) ^ words[4] ^ Math.imul(words[5], 0x27d4eb2f)) | 0, 0xc2b2ae3d);
  h ^= h >>> 16;
  h = Math.imul(h, 0x7feb352d);
  return (h ^ (h >>> 15)) >>> 0;
}

/**
 * Returns how many points have exactly the coordinates of an earlier one. A hash table over the bits, filled in up to
 * four passes so that it stays small beside the points.
 *
 * @param positions x0, y0, z0, x1, …; all finite
 */
export function countDuplicates(positions: Float64Array): number {
  const n = positions.length / 3;
  const passes = n > 200_000 ? 4 : 1;
  let size = 16;
  while (size < (1.6 * n) / passes) size *= 2;
  const table = new Uint32Array(size);
  const mask = size - 1;
  let duplicates = 0;
  for (let pass = 0; pass < passes; pass++) {
    if (pass > 0) table.fill(0);
    for (let i = 0; i < n; i++) {
      const x = positions[3 * i];
      const y = positions[3 * i + 1];
      const z = positions[3 * i + 2];
      const hash = hashPoint(x, y, z);
      if (passes > 1 && hash >>> 30 !== pass) continue;
      let slot = hash & mask;
      for (;;) {
        const other = table[slot];
        if (other === 0) {
          table[slot] = i + 1;
          break;
        }
        const at = 3 * (other - 1);
        if (positions[at] === x && positions[at + 1] === y && positions[at + 2] === z) {
          duplicates++;
          break;
        }
        slot = (slot + 1) & mask;
      }
    }
  }
  return duplicates;
}
