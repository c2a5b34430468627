import { leastSquares } from '../src/math/least-squares.ts';
import { composePoses, identityPose, movePoint, rotationExp } from '../src/math/rigid.ts';
import type { Pose } from '../src/model/pose.ts';
import type { BladeLaw } from './blade.ts';
import { distanceToBlade, nominalSurfacePoint } from './deviation.ts';
import { makeScan, type ScanOptions } from './scan.ts';

/** Points the reference fit stands on. */
const FIT_POINTS = 6000;

/**
 * The motion that fits a measured blade's true surface to the nominal one with the least squared distance by area:
 * what a best fit of an ideal scan finds on top of undoing the planted motion. Feet and distances exact, Gauss-Newton.
 * `scan` may state heights and shadows.
 */
export function exactBestFit(nominal: BladeLaw, measured: BladeLaw, scan: ScanOptions = {}): Pose {
  const { from = 0, to = 120, shadows = [] } = scan;
  const { positions } = makeScan({ blade: measured, points: FIT_POINTS, from, to, shadows }).cloud;
  let pose = identityPose();
  for (let round = 0; round < 8; round++) {
    const fit = leastSquares(
      new Float64Array(6),
      FIT_POINTS,
      (motion, residual, derivative) => {
        const trial = composePoses(small(motion), pose);
        for (let i = 0; i < FIT_POINTS; i++) {
          const p = movePoint(trial, positions.subarray(3 * i, 3 * i + 3));
          const foot = distanceToBlade(nominal, p[0], p[1], p[2]);
          const [, , , nx, ny, nz] = nominalSurfacePoint(nominal, foot);
          residual[i] = foot.distance;
          derivative.set([p[1] * nz - p[2] * ny, p[2] * nx - p[0] * nz, p[0] * ny - p[1] * nx, nx, ny, nz], 6 * i);
        }
        return true;
      },
      undefined,
      [1e-3, 1e-3, 1e-3, 1, 1, 1],
    );
    if (fit === null) break;
    pose = composePoses(small(fit.parameters), pose);
    if (Math.hypot(...fit.parameters) < 1e-10) break;
  }
  return pose;
}

function small(motion: Float64Array): Pose {
  return { rotation: rotationExp(motion.subarray(0, 3)), translation: Float64Array.from(motion.subarray(3)) };
}
