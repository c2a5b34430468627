import { rotationExp } from '../src/math/rigid.ts';
import type { Pose } from '../src/model/pose.ts';
import type { Deformation } from './blade.ts';
import type { Nick } from './nick.ts';
import type { ScanOptions } from './scan.ts';
import type { Shadow } from './scan-cells.ts';
import { LEADING, PRESSURE, TRAILING } from './section-form.ts';
import { evenHeights } from './tessellate.ts';

/** Heights of the sample section table (mm): 21 from 0 to 120. */
export const SAMPLE_HEIGHTS = evenHeights(21);

/** What was done to the finished sample blade: leading edge too sharp about 15 mm, the rest inside its limits. */
export const SAMPLE_DEFORMATION: Deformation = {
  twistDeg: [0, -0.25],
  bow: [0, -0.08],
  thickness: [0.025, -0.005],
  trailing: [0.008],
  centres: [-0.02],
  bands: [{ of: 'leading', centre: 15, halfWidth: 12, amount: -0.042 }],
};

/** Parts of the finished sample blade the scanner did not see: on the pressure side, and of the trailing edge. */
const SAMPLE_SHADOWS: Shadow[] = [
  { piece: PRESSURE, fromT: 0.35, toT: 0.6, fromHeight: 32, toHeight: 45 },
  { piece: TRAILING, fromT: -1, toT: 1, fromHeight: 99, toHeight: 105 },
];

/** What handling did to the finished sample blade: a nick in the leading edge between two sections of the table. */
export const SAMPLE_NICK: Nick = { piece: LEADING, t: 0, height: 63, depth: 0.15, width: 0.4, length: 0.4 };

/** Pose from a rotation vector (degrees) and a translation (mm). */
export function poseOf(rotationDeg: number[], translation: number[]): Pose {
  const vector = rotationDeg.map((angle) => (angle * Math.PI) / 180);
  return { rotation: rotationExp(vector), translation: Float64Array.from(translation) };
}

/** Planted motion of the finished sample blade, measured → nominal. */
export const SAMPLE_POSE = poseOf([24, -31, 97], [41, -18, 63]);

/** How the finished sample blade was scanned. */
export const SAMPLE_SCAN = {
  points: 194_000,
  seed: 2107,
  noise: 0.004,
  outliers: 0.001,
  edgeDensity: 4,
  from: -3.5,
  to: 120,
  surroundings: 6000,
  normals: true,
  shadows: SAMPLE_SHADOWS,
  nicks: [SAMPLE_NICK],
  pose: SAMPLE_POSE,
} satisfies ScanOptions;

/** Planted motion of the sample blanks on the scanner's rig, measured → the placement their truth is told in. */
export const BLANK_POSE = poseOf([4, -3, 6], [5, -8, 3]);

/** How the root of a sample blank was forged against its aerofoil: a nest on the root carries that to the blade. */
export const BLANK_ROOT_MOTION = poseOf([0.04, -0.05, 0.12], [0.06, -0.08, 0.1]);

/** How the sample blanks were scanned; each with its own seed. */
export const BLANK_SCAN = { points: 152_000, noise: 0.01, outliers: 0.001, edgeDensity: 3, pose: BLANK_POSE };
export const BLANK_ROOT_POINTS = 8000;
export const BLANK_SEEDS = { shift: 2108, lost: 2109, edges: 2110 };
