import { expect, test } from 'vitest';
import { shareFigures } from '../support/share-figures.ts';

test.each([1, 2, 3])('blank %i: a search without derivatives finds no better placement', async (seed) => {
  const found = await shareFigures({ seed, rows: 7, columns: 40, searches: 2, steps: 400 });
  expect(found.converged).toBe(true);
  expect(found.searched - found.shared).toBeLessThan(0.002);
});
