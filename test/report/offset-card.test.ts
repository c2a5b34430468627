import * as v from 'valibot';
import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/math/random.ts';
import { movePoint, poseFromMatrix, randomRotation, rotationExp } from '../../src/math/rigid.ts';
import { length3, subtract3, type Vec3 } from '../../src/math/vec3.ts';
import { offsetFileSchema } from '../../src/model/offset-results.ts';
import type { Offset } from '../../src/model/stock-results.ts';
import { type RotationOrder, rotationOfAnglesDeg } from '../../src/place/pose-readings.ts';
import { offsetMotion, workOffsets } from '../../src/place/work-offset.ts';
import { offsetCard, offsetJson } from '../../src/report/offset-card.ts';

/** What a person reads from a card. */
function readCard(text: string, mark = '.') {
  const numbers = (line: RegExp): Vec3 => {
    const found = text.match(line);
    expect(found).not.toBeNull();
    return found!.slice(1, 4).map((word) => Number(word.replace(mark, '.'))) as Vec3;
  };
  const n = '([-+]?\\d+[.,]\\d{4})';
  const value = (label: string, unit: string) => numbers(new RegExp(`^${label} +${n} ${unit}$`, 'm'))[0];
  const point = (label: string) => numbers(new RegExp(`^${label}: +X ${n}   Y ${n}   Z ${n} mm$`, 'm'));
  return {
    moves: /move: the part/.test(text) ? 'part' : /move: the programme/.test(text) ? 'programme' : null,
    order: /about X first, then Y, then Z/.test(text)
      ? 'RzRyRx'
      : /about Z first, then Y, then X/.test(text)
        ? 'RxRyRz'
        : '',
    translation: ['X', 'Y', 'Z'].map((axis) => value(axis, 'mm')) as Vec3,
    rotationDeg: ['X', 'Y', 'Z'].map((axis) => value(`about ${axis}`, 'deg')) as Vec3,
    pivot: point('Pivot'),
    checkPoint: { before: point('before'), after: point('after') },
  };
}

describe('the card of a work offset', () => {
  test('makes the motion again to 1 µm within 200 mm of the pivot, and so does its check point (seed 31)', () => {
    const uniform = seededRandom(31);
    const within = (radius: number): Vec3 => {
      const [x, y, z, r] = [2 * uniform() - 1, 2 * uniform() - 1, 2 * uniform() - 1, radius * Math.cbrt(uniform())];
      const size = length3([x, y, z]);
      return [(r * x) / size, (r * y) / size, (r * z) / size];
    };
    let [worstPlace, worstCheck] = [0, 0];
    for (let k = 0; k < 300; k++) {
      const rotation = k % 3 === 0 ? randomRotation(uniform) : rotationExp(within(0.1));
      const pose = { rotation, translation: Float64Array.from(within(40)) };
      const pivot = within(300);
      const near = (p: Vec3): Vec3 => [p[0] + pivot[0], p[1] + pivot[1], p[2] + pivot[2]];
      const order: RotationOrder = k % 2 === 0 ? 'RzRyRx' : 'RxRyRz';
      for (const offset of workOffsets(pose, { pivot, order, checkPoint: near(within(200)) })) {
        const read = readCard(offsetCard(offset));
        expect([read.moves, read.order]).toEqual([offset.moves, order]);
        const [asRead, exact] = [offsetMotion(read), offsetMotion(offset)];
        for (let i = 0; i < 10; i++) {
          const place = near(within(200));
          worstPlace = Math.max(worstPlace, length3(subtract3(movePoint(asRead, place), movePoint(exact, place))));
        }
        const { before, after } = read.checkPoint;
        worstCheck = Math.max(worstCheck, length3(subtract3(movePoint(asRead, before), after)));
      }
    }
    expect(worstPlace).toBeLessThan(1e-3);
    expect(worstCheck).toBeLessThan(1e-3);
    expect(worstPlace).toBeGreaterThan(1e-5);
  });

  const offset: Offset = {
    moves: 'programme',
    order: 'RxRyRz',
    pivot: [0, 0, -60],
    translation: [0.042, -0.31, 0],
    rotationDeg: [0.021, -0.00001, -0.118],
    checkPoint: { before: [12, -4.4, 38.5], after: [12.1, -4.417, 38.5] },
  };

  test('says what moves, the order, the pivot, and that signs and order are to be proven', () => {
    const text = offsetCard(offset);
    expect(text).toContain('WORK OFFSET');
    expect(text).toMatch(/^X +\+0\.0420 mm$/m);
    expect(text).toMatch(/^about Y +0\.0000 deg$/m);
    expect(text).toMatch(/^about Z +-0\.1180 deg$/m);
    expect(text).toContain('the programme (not the part)');
    expect(text).toContain('about Z first, then Y, then X');
    expect(text).toContain('Prove axis signs and order on the machine');
    expect(text).not.toContain('near 90');
  });
  test('writes a decimal comma where asked', () => {
    expect(readCard(offsetCard(offset, ','), ',')).toEqual(readCard(offsetCard(offset)));
    expect(offsetCard(offset, ',')).toMatch(/^X +\+0,0420 mm$/m);
  });
  test('says that a turn about Y near 90° leaves the others together', () => {
    expect(offsetCard({ ...offset, rotationDeg: [10, -89.9, 4] })).toContain('near 90');
  });
});

test('the record for a post-processor keeps its schema, all digits and the same motion as a matrix', () => {
  const pose = { rotation: rotationOfAnglesDeg([1.2, -0.7, 2.5], 'RzRyRx'), translation: Float64Array.of(1, 2, 3) };
  for (const offset of workOffsets(pose, { pivot: [1, 2, 3], order: 'RxRyRz', checkPoint: [20, 5, 100] })) {
    const record = v.parse(offsetFileSchema, JSON.parse(JSON.stringify(offsetJson(offset))));
    expect(record.translation).toEqual(offset.translation);
    expect(record.rotationDeg).toEqual(offset.rotationDeg);
    const after = movePoint(poseFromMatrix(record.matrix), record.checkPoint.before);
    expect(length3(subtract3(after, record.checkPoint.after))).toBeLessThan(1e-12);
  }
});
