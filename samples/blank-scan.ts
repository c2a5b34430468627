import { normalFrom, seededRandom } from '../src/math/random.ts';
import { invertPose, movePoints } from '../src/math/rigid.ts';
import type { Pose } from '../src/model/pose.ts';
import { rootPoints } from './blank-root.ts';
import { blankPointAndNormal, type ForgedBlank } from './blank-surface.ts';
import type { Scan, ScanOptions } from './scan.ts';
import { surfaceCells } from './scan-cells.ts';

/** How a blank is scanned; heights are those of the blade, noise lies along the blank's own normal. */
export interface BlankScanOptions
  extends Pick<ScanOptions, 'points' | 'seed' | 'noise' | 'outliers' | 'edgeDensity' | 'from' | 'to'> {
  /** Motion blank's own frame ← scanner; the points are written as they were before it. */
  pose?: Pose;
  /** Extra points on the forged root, and where the root stands against the aerofoil. */
  root?: { points: number; motion?: Pose };
}

/**
 * Seeded points on the surface of a blank, spread by the area of its blade, with noise along the blank's own normal and
 * outliers, those of its root last, in the scanner's frame. `piece`, `t` and `height` are places on the blank's blade.
 */
export function makeBlankScan(blank: ForgedBlank, options: BlankScanOptions = {}): Scan {
  const { points = 100_000, seed = 1, noise = 0, outliers = 0, edgeDensity = 1, from = -2.5, to = 122 } = options;
  const { pose, root } = options;
  const uniform = seededRandom(seed);
  const normal = normalFrom(seededRandom(seed + 1));
  const scatter = () => (noise === 0 ? 0 : noise * normal());
  const cells = surfaceCells(blank.blade, from, to, edgeDensity, []);
  const columns = cells.piece.length;
  const total = cells.sums[cells.sums.length - 1];
  const step = (to - from) / cells.rows;
  const positions = new Float64Array(3 * (points + (root?.points ?? 0)));
  const scan = { piece: new Uint8Array(points), t: new Float64Array(points), height: new Float64Array(points) };
  const added = new Float64Array(points);
  const at = new Float64Array(6);
  let outlierCount = 0;
  let cell = 0;
  for (let i = 0; i < points; i++) {
    const wanted = ((i + uniform()) / points) * total;
    while (cells.sums[cell] <= wanted && cell < cells.sums.length - 1) cell++;
    const column = cell % columns;
    const t = cells.from[column] + uniform() * (cells.to[column] - cells.from[column]);
    const z = from + ((cell - column) / columns + uniform()) * step;
    blankPointAndNormal(blank, cells.piece[column], t, z, at);
    added[i] = scatter();
    if (outliers > 0 && uniform() < outliers) {
      outlierCount++;
      added[i] += (uniform() < 0.5 ? -1 : 1) * (0.3 + 1.7 * uniform());
    }
    for (let axis = 0; axis < 3; axis++) positions[3 * i + axis] = at[axis] + added[i] * at[3 + axis];
    scan.piece[i] = cells.piece[column];
    scan.t[i] = t;
    scan.height[i] = z;
  }
  if (root !== undefined) rootPoints(blank, positions.subarray(3 * points), uniform, scatter, root.motion);
  if (pose !== undefined) movePoints(invertPose(pose), positions, positions);
  return { cloud: { kind: 'cloud', positions }, surfacePoints: points, outlierCount, ...scan, added };
}
