import { expect, it } from 'vitest';
import { borderOf } from '../../../components/viewer/open-borders.ts';

const pairs = (list: Uint32Array): string[] =>
  Array.from({ length: list.length / 2 }, (_, i) =>
    [list[2 * i], list[2 * i + 1]].sort((a, b) => a - b).join(' '),
  ).sort();

it('a square of two triangles ends at its four sides, not at its diagonal', () => {
  expect(pairs(borderOf([0, 1, 2, 0, 2, 3]))).toEqual(['0 1', '0 3', '1 2', '2 3']);
});

it('a closed tetrahedron ends nowhere', () => {
  expect(borderOf([0, 1, 2, 0, 3, 1, 1, 3, 2, 2, 3, 0]).length).toBe(0);
});
