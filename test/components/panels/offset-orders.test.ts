import { describe, expect, it } from 'vitest';
import { offsetsInBothOrders } from '../../../components/panels/offset-orders.ts';
import { composePoses, poseFromMatrix, poseToMatrix } from '../../../src/math/rigid.ts';
import { poseAbout, rotationOfAnglesDeg } from '../../../src/place/pose-readings.ts';
import { applyOffset, workOffsets } from '../../../src/place/work-offset.ts';

const pivot: [number, number, number] = [3, -2, 60];
const pose = poseAbout(rotationOfAnglesDeg([0.4, -0.2, 1.1], 'RzRyRx'), [0.042, -0.31, 0.1], pivot);
const matrix = poseToMatrix(pose);
const given = workOffsets(pose, { pivot, order: 'RzRyRx', checkPoint: [12, -4, 110] });

describe('offsets in both orders', () => {
  it('keep those of the results and read the other order anew; each stands for the placement', () => {
    const all = offsetsInBothOrders(given, matrix);
    expect(all.slice(0, given.length)).toEqual(given);
    expect(all.map(({ moves, order }) => `${moves} ${order}`).sort()).toEqual([
      'part RxRyRz',
      'part RzRyRx',
      'programme RxRyRz',
      'programme RzRyRx',
    ]);
    for (const offset of all) {
      const applied = poseToMatrix(applyOffset(offset));
      for (let i = 0; i < 16; i++) expect(Math.abs(applied[i] - matrix[i])).toBeLessThan(1e-12);
    }
  });

  it('are none where nothing is placed', () => {
    expect(offsetsInBothOrders([], poseToMatrix(composePoses(pose, poseFromMatrix(matrix))))).toEqual([]);
  });
});
