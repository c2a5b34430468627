import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/math/random.ts';
import { identityPose, invertPose, movePoint, multiply3, randomRotation, rotationExp } from '../../src/math/rigid.ts';
import type { Vec3 } from '../../src/math/vec3.ts';
import type { Pose } from '../../src/model/pose.ts';
import { poseAbout, rotationOfAnglesDeg } from '../../src/place/pose-readings.ts';
import { applyOffset, nearQuarterTurn, offsetMotion, workOffsets } from '../../src/place/work-offset.ts';

const ORDERS = ['RzRyRx', 'RxRyRz'] as const;

function greatestDifference(a: ArrayLike<number>, b: ArrayLike<number>): number {
  expect(a.length).toBe(b.length);
  return Array.from(a).reduce((most, value, i) => Math.max(most, Math.abs(value - b[i])), 0);
}

function poseDifference(a: Pose, b: Pose): number {
  return Math.max(greatestDifference(a.rotation, b.rotation), greatestDifference(a.translation, b.translation));
}

describe('a worked motion: A 1.2°, B −0.7°, C 2.5° about (0, 0, −60), then (0.15, −0.08, 0.30)', () => {
  const pivot: Vec3 = [0, 0, -60];
  const checkPoint: Vec3 = [20, 5, 100];
  const pose = poseAbout(rotationOfAnglesDeg([1.2, -0.7, 2.5], 'RzRyRx'), [0.15, -0.08, 0.3], pivot);
  const [part, programme] = workOffsets(pose, { pivot, order: 'RzRyRx', checkPoint });

  test('the part moves by the pose, and the check point with it', () => {
    expect(part.moves).toBe('part');
    expect(greatestDifference(part.rotationDeg, [1.2, -0.7, 2.5])).toBeLessThan(1e-12);
    expect(greatestDifference(part.translation, [0.15, -0.08, 0.3])).toBeLessThan(1e-13);
    expect(part.checkPoint.before).toEqual(checkPoint);
    expect(greatestDifference(part.checkPoint.after, [18.103874, 2.353569, 100.602015])).toBeLessThan(6e-7);
  });
  test('the programme moves by the inverse, not by the negated numbers', () => {
    expect(programme.moves).toBe('programme');
    expect(greatestDifference(programme.rotationDeg, [-1.229469, 0.646837, -2.514271])).toBeLessThan(6e-7);
    expect(greatestDifference(programme.translation, [-0.150022, 0.080203, -0.299935])).toBeLessThan(6e-7);
    const after = movePoint(invertPose(pose), checkPoint);
    expect(greatestDifference(programme.checkPoint.after, after)).toBeLessThan(1e-12);
  });
  test('the other pivot changes the translation alone, the other order the angles alone', () => {
    const far = workOffsets(pose, { pivot: [0, 0, 120], order: 'RzRyRx', checkPoint, moves: 'part' });
    expect(far.length).toBe(1);
    expect(greatestDifference(far[0].translation, [-1.882056, -3.941948, 0.247093])).toBeLessThan(6e-7);
    expect(far[0].rotationDeg).toEqual(part.rotationDeg);
    const other = workOffsets(pose, { pivot, order: 'RxRyRz', checkPoint })[0];
    expect(greatestDifference(other.rotationDeg, [1.229469, -0.646837, 2.514271])).toBeLessThan(6e-7);
    expect(other.translation).toEqual(part.translation);
  });
});

describe('values applied as stated make the pose again, seed 21', () => {
  test('1,000 motions, both orders, either thing moved, any pivot', () => {
    const uniform = seededRandom(21);
    const about = (size: number): Vec3 => [0, 1, 2].map(() => size * (2 * uniform() - 1)) as Vec3;
    let worst = 0;
    let checked = 0;
    for (let k = 0; k < 1000; k++) {
      const rotation = k % 2 === 0 ? randomRotation(uniform) : rotationExp(about(0.1));
      const pose = { rotation, translation: Float64Array.from(about(50)) };
      for (const order of ORDERS)
        for (const offset of workOffsets(pose, { pivot: about(300), order, checkPoint: about(200) })) {
          worst = Math.max(worst, poseDifference(applyOffset(offset), pose));
          const { before, after } = offset.checkPoint;
          worst = Math.max(worst, greatestDifference(movePoint(offsetMotion(offset), before), after));
          checked++;
        }
    }
    expect(checked).toBe(4000);
    expect(worst).toBeLessThan(1e-9);
  });
  test('turns about Y at and near 90° too, and they are told', () => {
    for (const order of ORDERS)
      for (const sign of [1, -1])
        for (const off of [0, 1e-13, 1e-11, 1e-9, 1e-7, 1e-5, 1e-3, 0.1]) {
          const half = sign * (Math.PI / 2 - off);
          const [outer, inner] = [rotationExp([0.3, 0, 0]), rotationExp([0, 0, -0.7])];
          const rotation = multiply3(outer, multiply3(rotationExp([0, half, 0]), inner));
          const turned = order === 'RxRyRz' ? rotation : multiply3(inner, multiply3(rotationExp([0, half, 0]), outer));
          const pose = { rotation: turned, translation: Float64Array.of(1, 2, 3) };
          const offset = workOffsets(pose, { pivot: [5, -3, 80], order, checkPoint: [0, 0, 0], moves: 'part' })[0];
          expect(poseDifference(applyOffset(offset), pose)).toBeLessThan(1e-9);
          expect(nearQuarterTurn(offset)).toBe(off < 0.017);
        }
  });
  test('an unknown order is refused', () => {
    const [offset] = workOffsets(identityPose(), { pivot: [0, 0, 0], order: 'RzRyRx', checkPoint: [0, 0, 100] });
    expect(() => offsetMotion({ ...offset, order: 'RyRxRz' })).toThrow(
      expect.objectContaining({ code: 'usage/rotation-order' }),
    );
  });
});
