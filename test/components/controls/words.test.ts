import { describe, expect, it } from 'vitest';
import { alignmentWords, playWords } from '../../../components/controls/words.ts';

describe('the name of a play', () => {
  it.each([
    [[0, 0, 1, 0, 0, 0], 'along the span'],
    [[0.97, 0.1, 0, 0.2, 0, 0], 'across, X'],
    [[0, -0.9, 0.1, 0, 0, 0.44], 'across, Y'],
    [[0.1, 0, 0, 0, 0, -0.99], 'turn about the span'],
    [[0, 0, 0, 0.6, -0.8, 0], 'tilt about Y; with tilt about X'],
  ])('%j: %s', (motion, name) => expect(playWords(motion)).toBe(name));
});

it('the alignment says how it was made and what was held', () => {
  expect(alignmentWords(null)).toBe('not made yet');
  expect(alignmentWords({ method: 'given', locks: [] })).toBe('placement given');
  expect(alignmentWords({ method: 'best-fit', locks: [] })).toBe('best fit');
  expect(alignmentWords({ method: 'best-fit', locks: ['z', 'rz'] })).toBe('best fit, Z, about Z locked');
});
