import { beforeAll, describe, expect, test, vi } from 'vitest';
import { makeBlank } from '../../samples/blank.ts';
import { poseOf } from '../../samples/scenario.ts';
import { evenHeights, exactSections } from '../../samples/tessellate.ts';
import { identityPose, movePoints, poseFromMatrix, poseToMatrix } from '../../src/math/rigid.ts';
import type { LoadedShape } from '../../src/model/shape.ts';
import { applyOffset } from '../../src/place/work-offset.ts';
import { type BlankReview, placeBlank, reviewBlank } from '../../src/review-blank.ts';
import { loaded } from '../support/loaded.ts';

/** Placing and sharing on all points take seconds. */
vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

const nominal = loaded(exactSections(evenHeights(21), 400), 'nominal.csv');
const mesh = makeBlank({ rows: 121, columns: 240 });
/** Cells twice as wide as by default: a quarter of the work. */
const settings = { mapCell: 1 };
const IDENTITY = poseToMatrix(identityPose());
/** Least stock of the blank as made, at the middle of its hollow, and how far its facets sag over the hollow (mm). */
const LEAST = 0.6 - 0.1 * (72 / 120) - 0.05 - 0.55;
const SAG = 0.008;

const moved = (): LoadedShape => {
  const positions = new Float64Array(mesh.positions.length);
  movePoints(poseOf([20, -35, 80], [30, -10, 55]), mesh.positions, positions);
  return loaded({ ...mesh, positions }, 'blank.ply');
};

describe('a blank in its own place', () => {
  let review: BlankReview;
  beforeAll(async () => {
    review = await reviewBlank({ nominal, measured: [loaded(mesh, 'blank.ply')], pose: IDENTITY, settings }, {});
  });

  test('has the stock it was made with', () => {
    const stock = review.results.stock!;
    expect(stock.placement.method).toBe('given');
    expect(Math.abs(stock.least.value! - LEAST)).toBeLessThan(SAG);
    expect(stock.least.place!.side).toBe('suction');
    expect(stock.least.place!.height).toBeCloseTo(72, 0);
    expect(stock.coverage).toBeGreaterThan(0.99);
    expect(review.results.answers.stock!.verdict).toBe('fail');
    expect(stock.areas).toHaveLength(1);
  });

  test('is offered the placement that cleans it up, held by places on both flanks', () => {
    const { better } = review.results.stock!;
    expect(better!.spare.value!).toBeGreaterThan(0.2);
    expect(new Set(better!.heldBy.map(({ place }) => place.side)).size).toBeGreaterThan(1);
    expect(better!.heldBy.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 6);
  });

  test('keeps its promise when it is put there', async () => {
    const promised = review.results.stock!.better!;
    const there = await placeBlank(review.kept, { method: 'share-stock' }, {});
    const stock = there.results.stock!;
    expect(stock.placement.spare.value!).toBeCloseTo(promised.spare.value!, 4);
    expect(stock.least.value!).toBeGreaterThan(0.2);
    expect(stock.better).toBeNull();
    expect(there.results.answers.stock!.verdict).toBe('pass');
    const { pose } = { pose: poseFromMatrix(stock.placement.matrix) };
    const [part] = stock.offsets.filter(({ moves }) => moves === 'part');
    const read = applyOffset(part);
    for (let k = 0; k < 9; k++) expect(read.rotation[k]).toBeCloseTo(pose.rotation[k], 9);
    for (let k = 0; k < 3; k++) expect(read.translation[k]).toBeCloseTo(pose.translation[k], 8);
  });

  test('is held against other wants', async () => {
    const there = await placeBlank(
      review.kept,
      { method: 'given', matrix: IDENTITY, wanted: { least: 0.3, most: null } },
      {},
    );
    const stock = there.results.stock!;
    expect(Math.abs(stock.placement.spare.value! - (LEAST - 0.3))).toBeLessThan(SAG);
    expect(stock.zones.every(({ wanted }) => wanted.least === 0.3)).toBe(true);
  });

  test('cannot be placed by datum targets no plan names', async () => {
    await expect(placeBlank(review.kept, { method: 'datum' }, {})).rejects.toMatchObject({
      code: 'plan/no-datum-targets',
    });
  });
});

test('a blank anywhere is found, and moved along the span so that it covers both ends', async () => {
  const { results } = await reviewBlank({ nominal, measured: [moved()], settings }, {});
  const { rotation, translation } = poseFromMatrix(results.stock!.placement.matrix);
  const back = poseOf([20, -35, 80], [30, -10, 55]);
  const place = [0, 0, 60];
  const scanned = new Float64Array(3);
  movePoints(back, Float64Array.from(place), scanned);
  const found = [0, 1, 2].map(
    (k) =>
      rotation[3 * k] * scanned[0] +
      rotation[3 * k + 1] * scanned[1] +
      rotation[3 * k + 2] * scanned[2] +
      translation[k],
  );
  expect(Math.hypot(found[0] - place[0], found[1] - place[1])).toBeLessThan(0.1);
  expect(Math.abs(found[2] - place[2])).toBeLessThan(0.3);
  expect(results.warnings.map(({ code }) => code)).toContain('place/held-by-ends');
  expect(results.stock!.coverage).toBeGreaterThan(0.99);
});
