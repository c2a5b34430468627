import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/math/random.ts';
import {
  apply3,
  determinant3,
  leftJacobian,
  movePoint,
  movePoints,
  multiply3,
  nearestRotation,
  poseFromMatrix,
  poseToMatrix,
  randomRotation,
  rotationAngle,
  rotationExp,
  rotationLog,
  transpose3,
} from '../../src/math/rigid.ts';

function worst(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let most = 0;
  for (let i = 0; i < b.length; i++) most = Math.max(most, Math.abs(a[i] - b[i]));
  return most;
}

describe('rotations, seed 3', () => {
  test('exponential of a quarter turn about Z', () => {
    expect(worst(rotationExp([0, 0, Math.PI / 2]), [0, -1, 0, 1, 0, 0, 0, 0, 1])).toBeLessThan(1e-15);
  });
  test('logarithm undoes the exponential from tiny angles to half a turn', () => {
    const uniform = seededRandom(3);
    for (const angle of [0, 1e-12, 1e-7, 1e-3, 0.5, 2, 3, Math.PI - 1e-6]) {
      const axis = apply3(randomRotation(uniform), [0, 0, 1]);
      const w = axis.map((c) => c * angle);
      expect(worst(rotationLog(rotationExp(w)), w)).toBeLessThan(1e-9 * Math.max(angle, 1e-3) + 1e-16);
      expect(Math.abs(rotationAngle(rotationExp(w)) - angle)).toBeLessThan(1e-14);
    }
  });
  test('random rotations are proper, and their angles follow the uniform law (θ − sin θ)/π', () => {
    const uniform = seededRandom(4);
    let below90 = 0;
    const count = 20000;
    for (let k = 0; k < count; k++) {
      const r = randomRotation(uniform);
      if (k < 200) {
        expect(worst(multiply3(r, transpose3(r)), [1, 0, 0, 0, 1, 0, 0, 0, 1])).toBeLessThan(1e-14);
        expect(Math.abs(determinant3(r) - 1)).toBeLessThan(1e-14);
      }
      if (rotationAngle(r) < Math.PI / 2) below90++;
    }
    const share = (Math.PI / 2 - 1) / Math.PI;
    expect(Math.abs(below90 / count - share)).toBeLessThan(4 * Math.sqrt((share * (1 - share)) / count));
  });
  test('left Jacobian is the derivative of the exponential', () => {
    for (const w of [
      [0.3, -0.7, 1.1],
      [1e-5, 2e-5, -1e-5],
    ]) {
      const jacobian = leftJacobian(w);
      for (let k = 0; k < 3; k++) {
        const h = 1e-6;
        const [plus, minus] = [h, -h].map((step) => rotationExp(w.map((c, i) => (i === k ? c + step : c))));
        const turn = rotationLog(multiply3(plus, transpose3(minus)));
        expect(
          worst(
            turn.map((c) => c / (2 * h)),
            [jacobian[k], jacobian[3 + k], jacobian[6 + k]],
          ),
        ).toBeLessThan(1e-9);
      }
    }
  });
  test('nearest rotation takes off rounding to four digits', () => {
    const r = randomRotation(seededRandom(5));
    const near = nearestRotation(r.map((c) => Math.round(c * 1e4) / 1e4));
    expect(worst(multiply3(near, transpose3(near)), [1, 0, 0, 0, 1, 0, 0, 0, 1])).toBeLessThan(1e-14);
    expect(worst(near, r)).toBeLessThan(1e-4);
  });
  test('points move as the 4 × 4 says, in place too', () => {
    const pose = poseFromMatrix([0, -1, 0, 5, 1, 0, 0, 6, 0, 0, 1, 7, 0, 0, 0, 1]);
    expect(movePoint(pose, [1, 2, 3])).toEqual([3, 7, 10]);
    expect(poseToMatrix(pose)).toEqual([0, -1, 0, 5, 1, 0, 0, 6, 0, 0, 1, 7, 0, 0, 0, 1]);
    const points = Float64Array.of(1, 2, 3, 0, 0, 0);
    movePoints(pose, points, points);
    expect([...points]).toEqual([3, 7, 10, 5, 6, 7]);
  });
});
