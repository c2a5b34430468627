import { BLOCK_SIZE } from './triangle-blocks.ts';
import type { PseudoNormals } from './triangle-normals.ts';

/**
 * Completes the pseudo-normals around triangles without area and with three corners. Such a triangle stitches a long
 * side to the two short sides that lie on it: the faces on both sides meet there although they share no edge. The
 * short sides and the middle corner get the normal from across the long side, the long side the mean of those from
 * across the short ones. Stitches may lie on each other.
 *
 * @param blocks twelve numbers a triangle, see `writeBlock`.
 * @param corners vertex numbers; the first two are the ends of the long side.
 * @param edges edge numbers, three a triangle.
 */
export function completeAcrossNeedles(
  blocks: Float64Array,
  corners: Uint32Array,
  edges: Uint32Array,
  normals: PseudoNormals,
): void {
  const needles: number[] = [];
  for (let k = 0; k < corners.length / 3; k++) {
    const [p, q, r] = [corners[3 * k], corners[3 * k + 1], corners[3 * k + 2]];
    if (blocks[BLOCK_SIZE * k + 11] === 0 && p !== q && q !== r && r !== p) needles.push(k);
  }
  if (needles.length === 0) return;
  const squareOf = (k: number) => blocks[BLOCK_SIZE * k + 9];
  needles.sort((a, b) => squareOf(a) - squareOf(b) || a - b);

  // From the short sides up to the long ones, smallest needle first.
  const { edges: sums, vertices } = normals;
  const given = new Float64Array(3 * needles.length);
  needles.forEach((k, j) => {
    for (let a = 0; a < 3; a++) {
      given[3 * j + a] = 0.5 * (sums[3 * edges[3 * k + 1] + a] + sums[3 * edges[3 * k + 2] + a]);
      sums[3 * edges[3 * k] + a] += given[3 * j + a];
    }
  });
  // From the long sides down, largest first, without what came up through the same needle.
  for (let j = needles.length - 1; j >= 0; j--) {
    const k = needles[j];
    for (let a = 0; a < 3; a++) {
      const across = sums[3 * edges[3 * k] + a] - given[3 * j + a];
      sums[3 * edges[3 * k + 1] + a] += across;
      sums[3 * edges[3 * k + 2] + a] += across;
      vertices[3 * corners[3 * k + 2] + a] += Math.PI * across;
    }
  }
}
