import { normalFrom, seededRandom } from '../src/math/random.ts';
import { apply3, invertPose, movePoints } from '../src/math/rigid.ts';
import type { Pose } from '../src/model/pose.ts';
import type { Cloud } from '../src/model/shape.ts';
import { type BladeLaw, formAt, nominalBlade, sectionDistance, surfacePoint } from './blade.ts';
import { type Nick, nickDepths } from './nick.ts';
import { ROOT_BLOCK } from './root-block.ts';
import { isHidden, type Shadow, surfaceCells } from './scan-cells.ts';

export interface ScanOptions {
  blade?: BladeLaw;
  points?: number;
  seed?: number;
  /** Standard deviation along the surface normal (mm). */
  noise?: number;
  /** Share of points pushed off the surface along the normal, by 0.3 to 2 mm either way. */
  outliers?: number;
  /** Density on the edge pieces over that on the flanks. */
  edgeDensity?: number;
  /** Heights between which the surface is scanned (mm). */
  from?: number;
  to?: number;
  shadows?: Shadow[];
  /** Dents in the measured blade. */
  nicks?: Nick[];
  /** Motion measured → nominal; the points are written as they were before it. */
  pose?: Pose;
  /** Extra points: half on the platform's upper face, half on a plane 40 mm below it. */
  surroundings?: number;
  normals?: boolean;
}

/** A scan with everything that is known of it. Arrays run parallel to the surface points; surroundings come last. */
export interface Scan {
  cloud: Cloud;
  surfacePoints: number;
  outlierCount: number;
  /** Where each point was taken on the measured blade. */
  piece: Uint8Array;
  t: Float64Array;
  height: Float64Array;
  /** What was added along the normal (mm), noise and outlier push together. */
  added: Float64Array;
}

const node = new Float64Array(7);
const TABLE_BELOW_PLATFORM = 40;

/**
 * Seeded random points on a blade's surface, spread by area within cells of half a millimetre of height, with normal
 * noise, outliers, shadows and nicks, in the frame before `pose`. A point in a nick keeps the normal of the whole blade.
 */
export function makeScan(options: ScanOptions = {}): Scan {
  const { points = 100_000, seed = 1, noise = 0, outliers = 0, edgeDensity = 1, from = 0, to = 120 } = options;
  const { blade = nominalBlade(), shadows = [], nicks = [], pose, surroundings = 0, normals = false } = options;
  const depthAt = nickDepths(blade, nicks);
  const uniform = seededRandom(seed);
  const normal = normalFrom(seededRandom(seed + 1));
  const cells = surfaceCells(blade, from, to, edgeDensity, shadows);
  const columns = cells.piece.length;
  const total = cells.sums[cells.sums.length - 1];
  const positions = new Float64Array(3 * (points + surroundings));
  const directions = normals ? new Float64Array(positions.length) : null;
  const scan = { piece: new Uint8Array(points), t: new Float64Array(points), height: new Float64Array(points) };
  const added = new Float64Array(points);
  const step = (to - from) / cells.rows;
  let outlierCount = 0;
  let cell = 0;
  for (let i = 0; i < points; i++) {
    const wanted = ((i + uniform()) / points) * total;
    while (cells.sums[cell] <= wanted && cell < cells.sums.length - 1) cell++;
    const column = cell % columns;
    const low = from + ((cell - column) / columns) * step;
    const piece = cells.piece[column];
    let t = 0;
    let z = 0;
    do {
      t = cells.from[column] + uniform() * (cells.to[column] - cells.from[column]);
      z = low + uniform() * step;
    } while (shadows.length > 0 && isHidden(shadows, piece, t, z));
    surfacePoint(formAt(blade, z), piece, t, z, node);
    let push = noise === 0 ? 0 : noise * normal();
    if (outliers > 0 && uniform() < outliers) {
      outlierCount++;
      push += (uniform() < 0.5 ? -1 : 1) * (0.3 + 1.7 * uniform());
    }
    const depth = depthAt(piece, t, z);
    for (let axis = 0; axis < 3; axis++) {
      positions[3 * i + axis] = node[axis] + (depth + push) * node[3 + axis];
      if (directions !== null) directions[3 * i + axis] = node[3 + axis];
    }
    scan.piece[i] = piece;
    scan.t[i] = t;
    scan.height[i] = z;
    added[i] = push;
  }
  const extra = positions.subarray(3 * points);
  addSurroundings(blade, extra, uniform, () => (noise === 0 ? 0 : noise * normal()));
  if (directions !== null) for (let k = 3 * points + 2; k < directions.length; k += 3) directions[k] = 1;
  const cloud: Cloud = { kind: 'cloud', positions };
  if (directions !== null) cloud.normals = directions;
  if (pose !== undefined) moveBack(cloud, pose);
  return { cloud, surfacePoints: points, outlierCount, ...scan, added };
}

/** Points on the platform's upper face outside the fillet, and on a table plane below the part. */
function addSurroundings(blade: BladeLaw, out: Float64Array, uniform: () => number, noise: () => number): void {
  const top = ROOT_BLOCK.platformTop;
  const { form } = formAt(blade, top);
  const [cos, sin] = [Math.cos(form.angle), Math.sin(form.angle)];
  const found = new Float64Array(6);
  const count = out.length / 3;
  for (let i = 0; i < count; i++) {
    const onPlatform = i < count / 2;
    let x = 0;
    let y = 0;
    do {
      const along = ROOT_BLOCK.platform[0] * (uniform() - 0.5);
      const across = ROOT_BLOCK.platform[1] * (uniform() - 0.5);
      x = (onPlatform ? 1 : 2.5) * (cos * along - sin * across);
      y = (onPlatform ? 1 : 2.5) * (sin * along + cos * across);
      if (onPlatform) sectionDistance({ ...blade, fillet: null }, x, y, top, found);
    } while (onPlatform && found[0] < ROOT_BLOCK.fillet);
    out.set([x, y, top + noise() - (onPlatform ? 0 : TABLE_BELOW_PLATFORM)], 3 * i);
  }
}

/** Moves a cloud by the inverse of the pose measured → nominal. */
function moveBack(cloud: Cloud, pose: Pose): void {
  const inverse = invertPose(pose);
  cloud.positions.set(movePoints(inverse, cloud.positions));
  const { normals } = cloud;
  if (normals === undefined) return;
  for (let k = 0; k < normals.length; k += 3) {
    normals.set(apply3(inverse.rotation, normals.subarray(k, k + 3)), k);
  }
}
