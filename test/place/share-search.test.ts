import { expect, test } from 'vitest';
import { shareFigures } from '../support/share-figures.ts';

test.each([1, 2, 3])('blank %i: a search without derivatives finds no better placement', async (seed) => {
  const found = await shareFigures({ seed, rows: 6, columns: 30, searches: 1, steps: 300 });
  expect(found.converged).toBe(true);
  expect(found.searched - found.shared).toBeLessThan(0.002);
});
