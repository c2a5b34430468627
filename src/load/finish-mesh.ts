import type { Mesh } from '../model/shape.ts';
import { type FormatInput, loadError, warn } from './format.ts';
import { type DoubleStore, exactDoubles, exactIndices, type IndexStore } from './stores.ts';

/**
 * Returns the finished mesh. Triangles that use a vertex twice have no area; they are taken out with a warning.
 *
 * @throws `load/no-points` when no triangle remains
 */
export function finishMesh(input: FormatInput, positions: DoubleStore, triangles: IndexStore): Mesh {
  const { data } = triangles;
  const found = triangles.length / 3;
  let kept = 0;
  for (let t = 0; t < triangles.length; t += 3) {
    const a = data[t];
    const b = data[t + 1];
    const c = data[t + 2];
    if (a === b || b === c || c === a) continue;
    data[kept] = a;
    data[kept + 1] = b;
    data[kept + 2] = c;
    kept += 3;
  }
  triangles.length = kept;
  const flat = found - kept / 3;
  if (kept === 0) {
    const message = flat === 0 ? 'The file holds no triangles.' : `All ${flat} triangles have two equal corners.`;
    throw loadError(input, 'load/no-points', message, null, 'Choose a file with triangles in it.');
  }
  if (flat > 0) {
    const message = `${flat} of ${found} triangles have two equal corners and no area. They are left out.`;
    warn(input, 'load/flat-triangles', message, null, 'No action is needed; the surface does not change.');
  }
  return { kind: 'mesh', positions: exactDoubles(positions), triangles: exactIndices(triangles) };
}
