import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/math/random.ts';
import { composePoses, invertPose, movePoint, randomRotation, rotationAngle } from '../../src/math/rigid.ts';
import {
  axisAngleDeg,
  poseAbout,
  readInverse,
  readPose,
  rotationAnglesDeg,
  rotationOfAnglesDeg,
  translationAt,
} from '../../src/place/pose-readings.ts';

const PIVOT = [0, 0, -60];
const pose = poseAbout(rotationOfAnglesDeg([1.2, -0.7, 2.5], 'RzRyRx'), [0.15, -0.08, 0.3], PIVOT);

function expectAll(actual: ArrayLike<number>, expected: number[], tolerance = 6e-7) {
  expect(actual.length).toBe(expected.length);
  expected.forEach((value, i) => {
    expect(Math.abs(actual[i] - value)).toBeLessThan(tolerance);
  });
}

describe('a worked motion: A 1.2°, B −0.7°, C 2.5° about (0, 0, −60)', () => {
  test('rotation and translation', () => {
    expectAll(
      pose.rotation,
      [
        0.998973662, -0.043865431, -0.011289201, 0.043616132, 0.998817954, -0.021455269, 0.012217001, 0.020940857,
        0.99970607,
      ],
      6e-10,
    );
    expectAll(pose.translation, [-0.527352, -1.367316, 0.282364]);
  });
  test('the translation depends on the pivot, the image of a point does not', () => {
    expectAll(translationAt(pose, PIVOT), [0.15, -0.08, 0.3], 1e-14);
    expectAll(translationAt(pose, [0, 0, 120]), [-1.882056, -3.941948, 0.247093]);
    expectAll(movePoint(pose, [20, 5, 100]), [18.103874, 2.353569, 100.602015]);
  });
  test('both readings and the angle', () => {
    expectAll(readPose(pose, PIVOT, 'RzRyRx').rotationDeg, [1.2, -0.7, 2.5], 1e-12);
    expectAll(readPose(pose, PIVOT, 'RxRyRz').rotationDeg, [1.229469, -0.646837, 2.514271]);
    expect(Math.abs(axisAngleDeg(pose.rotation).angleDeg - 2.866414)).toBeLessThan(6e-7);
  });
  test('the inverse is not the negated numbers', () => {
    const inverse = readInverse(pose, PIVOT, 'RzRyRx');
    expectAll(inverse.rotationDeg, [-1.229469, 0.646837, -2.514271]);
    expectAll(inverse.translation, [-0.150022, 0.080203, -0.299935]);
    const back = poseAbout(rotationOfAnglesDeg(inverse.rotationDeg, 'RzRyRx'), inverse.translation, PIVOT);
    expectAll(movePoint(back, movePoint(pose, [20, 5, 100])), [20, 5, 100], 1e-12);
  });
});

describe('readings, seed 11', () => {
  test('angles make the rotation again in both orders, all over SO(3)', () => {
    const uniform = seededRandom(11);
    for (let k = 0; k < 200; k++) {
      const rotation = randomRotation(uniform);
      for (const order of ['RzRyRx', 'RxRyRz'] as const) {
        const again = rotationOfAnglesDeg(rotationAnglesDeg(rotation, order), order);
        expectAll(again, [...rotation], 1e-12);
      }
    }
  });
  test('a quarter turn about Y still makes the rotation again', () => {
    for (const order of ['RzRyRx', 'RxRyRz'] as const)
      for (const b of [90, -90]) {
        const rotation = rotationOfAnglesDeg([17, b, -31], order);
        expectAll(rotationOfAnglesDeg(rotationAnglesDeg(rotation, order), order), [...rotation], 1e-9);
      }
  });
  test('a motion and its inverse make none', () => {
    const none = composePoses(invertPose(pose), pose);
    expect(rotationAngle(none.rotation)).toBeLessThan(1e-15);
    expectAll(none.translation, [0, 0, 0], 1e-14);
  });
});
