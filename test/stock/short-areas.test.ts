import { expect, test } from 'vitest';
import { partBelow } from '../../src/stock/short-areas.ts';

test('part of a unit square below a plane: triangle, band, trapezium and their complements', () => {
  expect(partBelow(1, 0.5, 0.5)).toBe(0);
  expect(partBelow(-1, 0.5, 0.5)).toBe(1);
  expect(partBelow(0, 0.7, 0.2)).toBeCloseTo(0.5, 12);
  expect(partBelow(0.25, 1, 0)).toBeCloseTo(0.25, 12);
  // x + y < 0.4: a triangle of legs 0.4. The plane is 1 − 0.4 in the middle.
  expect(partBelow(0.6, 1, 1)).toBeCloseTo(0.08, 12);
  expect(partBelow(-0.6, 1, 1)).toBeCloseTo(0.92, 12);
  // x + 2 y < 1.5: trapezium of heights 0.75 and 0.25.
  expect(partBelow(0, 1, 2)).toBeCloseTo(0.5, 12);
});
