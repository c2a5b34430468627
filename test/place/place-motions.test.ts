import { describe, expect, test } from 'vitest';
import { makeScan } from '../../samples/scan.ts';
import { makeMesh } from '../../samples/tessellate.ts';
import { seededRandom } from '../../src/math/random.ts';
import { composePoses, movePoints, rotationAngle } from '../../src/math/rigid.ts';
import type { Pose } from '../../src/model/pose.ts';
import { mirroredPoints } from '../../src/place/coarse-pose.ts';
import { placePart } from '../../src/place/place-part.ts';
import { motionInWords } from '../../src/place/place-warnings.ts';
import { translationAt } from '../../src/place/pose-readings.ts';
import { bladeTarget, randomPose } from './blade-target.ts';

const target = bladeTarget();
const mesh = makeMesh({ rows: 61, columns: 240 }).positions;

/** Error of a found pose at mid-span: shift across and along the span (mm), turn (degrees). */
function errorOf(found: Pose, planted: Pose): { across: number; along: number; turnDeg: number } {
  const left = composePoses(found, planted);
  const [x, y, z] = translationAt(left, [0, 0, 60]);
  return { across: Math.hypot(x, y), along: Math.abs(z), turnDeg: (rotationAngle(left.rotation) * 180) / Math.PI };
}

describe('undeformed blade in any orientation, seed 61', () => {
  test('exact mesh, 20 motions: found to a nanometre', async () => {
    const uniform = seededRandom(61);
    for (let k = 0; k < 20; k++) {
      const planted = randomPose(uniform);
      const placement = await placePart(target, movePoints(planted, mesh));
      const error = errorOf(placement.pose, planted);
      expect(error.across).toBeLessThan(1e-5);
      expect(error.along).toBeLessThan(1e-4);
      expect(error.turnDeg).toBeLessThan(1e-5);
      expect(placement.converged).toBe(true);
      expect(placement.handedness).toBe('proper');
    }
  });

  test('cloud of 200 000 points with 5 µm noise: 1 µm across, 5 µm along, and the stated play says so', async () => {
    const uniform = seededRandom(62);
    const { positions } = makeScan({ points: 200_000, noise: 0.005, seed: 62 }).cloud;
    for (let k = 0; k < 3; k++) {
      const planted = randomPose(uniform);
      const placement = await placePart(target, movePoints(planted, positions));
      const error = errorOf(placement.pose, planted);
      expect(error.across).toBeLessThan(1e-3);
      expect(error.along).toBeLessThan(5e-3);
      expect(error.turnDeg).toBeLessThan(5e-3);
      const [weakest] = placement.plays;
      expect(motionInWords(weakest.motion)).toBe('along the span');
      expect(error.along).toBeLessThan(4 * weakest.play);
      // Rows of the normal matrix give 0.94 µm for these points.
      expect(weakest.play).toBeGreaterThan(0.6e-3);
      expect(weakest.play).toBeLessThan(1.4e-3);
      expect(weakest.weak).toBe(false);
      expect(placement.residual.rms).toBeCloseTo(0.005, 4);
    }
  });

  test('mirrored blade: reported every time, taken when asked', async () => {
    const uniform = seededRandom(63);
    for (let k = 0; k < 4; k++) {
      const moved = movePoints(randomPose(uniform), mirroredPoints(mesh));
      await expect(placePart(target, moved)).rejects.toMatchObject({ code: 'place/mirrored', exitCode: 5 });
      if (k > 0) continue;
      const accepted = await placePart(target, moved, { acceptPose: true });
      expect(accepted.handedness).toBe('mirrored');
      expect(accepted.residual.rms).toBeLessThan(1e-5);
      expect(accepted.warnings.map((w) => w.code)).toContain('place/mirrored');
    }
  });
});
