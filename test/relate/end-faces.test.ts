import { describe, expect, test } from 'vitest';
import { identityPose } from '../../src/math/rigid.ts';
import { POINT_OUTSIDE_SPAN, POINT_USED } from '../../src/model/relation.ts';
import { leaveOutEndFaces, measuredEnds, roomAlongSpan } from '../../src/relate/end-faces.ts';
import { relatePoints } from '../../src/relate/relate-points.ts';
import { evaluateSurface, PLACE_SIZE, placeNormal } from '../../src/spatial/surface-evaluate.ts';
import { exactTarget } from '../support/exact-nominal.ts';

const target = exactTarget(7, 200);
const { surface } = target;
const STOCK = 0.4;

/** Points of a blank with even stock between two heights, and of the flat face that ends it at the top. */
function blank(low: number, high: number): { points: Float64Array; face: number } {
  const { columns } = surface;
  const place = new Float64Array(PLACE_SIZE);
  const normal = new Float64Array(3);
  const points: number[] = [];
  for (let h = low; h <= high + 1e-9; h += 0.25)
    for (let c = 0; c + 1 < columns.length; c++) {
      evaluateSurface(surface, columns[c], h, place);
      placeNormal(surface, place, normal);
      points.push(place[0] + STOCK * normal[0], place[1] + STOCK * normal[1], h);
    }
  const face = points.length / 3;
  for (let c = 0; c + 1 < columns.length; c++)
    for (const depth of [0.15, 0.3, 0.45]) {
      evaluateSurface(surface, columns[c], high, place);
      placeNormal(surface, place, normal);
      points.push(place[0] + (STOCK - depth) * normal[0], place[1] + (STOCK - depth) * normal[1], high);
    }
  return { points: Float64Array.from(points), face };
}

async function related(low: number, high: number) {
  const { points, face } = blank(low, high);
  const relation = await relatePoints(target, points, identityPose(), { gate: 3 }, {});
  const ends = measuredEnds(surface, relation, points, identityPose());
  return { relation, ends, face };
}

describe('a blank that ends inside the span', () => {
  test('loses the points of its end face and keeps its flanks', async () => {
    const { relation, ends, face } = await related(0, 110);
    leaveOutEndFaces(relation, ends, surface);
    const flags = (flag: number, from: number, to: number) =>
      relation.flag.subarray(from, to).filter((f) => f === flag);
    expect(flags(POINT_OUTSIDE_SPAN, face, relation.count)).toHaveLength(relation.count - face);
    expect(flags(POINT_USED, 0, face).length).toBeGreaterThan(0.99 * face);
  });

  test('tells how far it may move before the finished blade sticks out of it', async () => {
    const { ends } = await related(-2, 110);
    const room = roomAlongSpan(ends, surface);
    expect(room.down).toBeCloseTo(-10, 1);
    expect(room.up).toBeCloseTo(2, 0);
  });
});

test('a blank longer than the finished blade loses nothing inside the span', async () => {
  const { relation, ends } = await related(0, 120);
  const before = relation.flag.slice();
  leaveOutEndFaces(relation, { ...ends, high: ends.high.map((z) => z + 5) }, surface);
  expect(relation.flag).toEqual(before);
});
