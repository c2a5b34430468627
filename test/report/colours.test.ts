import { describe, expect, test } from 'vitest';
import { INK, PAPER, RAMP, rampOf, rgbOf, stepOf, VERDICT_TINTS } from '../../src/report/colours.ts';
import { ciede2000, contrast, lab, linearRgb, seen, VISIONS } from '../support/colour-difference.ts';

/** The figures of the ramp are stated to one decimal. */
const toTenths = (value: number) => Math.round(10 * value) / 10;

test('the difference formula gives published values', () => {
  // Pairs 1, 7 and 17 of the test data of Sharma, Wu and Dalal (2005).
  expect(ciede2000([50, 2.6772, -79.7751], [50, 0, -82.7485])).toBeCloseTo(2.0425, 4);
  expect(ciede2000([50, 0, 0], [50, -1, 2])).toBeCloseTo(2.3669, 4);
  expect(ciede2000([50, 2.5, 0], [73, 25, -18])).toBeCloseTo(27.1492, 4);
});

describe.each(Object.entries(VISIONS))('%s vision', (name, matrix) => {
  const colours = RAMP.map(({ colour }) => lab(seen(linearRgb(colour), matrix)));

  test('neighbouring steps differ by at least 14', () => {
    for (let i = 1; i < colours.length; i++)
      expect(toTenths(ciede2000(colours[i - 1], colours[i]))).toBeGreaterThanOrEqual(14);
  });

  test('opposite steps', () => {
    for (let n = 1; n <= 4; n++) {
      const difference = ciede2000(colours[4 - n], colours[4 + n]);
      if (name === 'grey') expect(difference).toBeLessThan(3);
      else expect(difference).toBeGreaterThanOrEqual(37);
    }
  });
});

test('contrasts of stripes, ink and tints', () => {
  for (const { colour, ink } of RAMP) if (ink) expect(toTenths(contrast(colour, ink))).toBeGreaterThanOrEqual(5);
  expect(contrast(INK, PAPER)).toBeGreaterThan(17.7);
  expect(contrast(INK, rampOf(0).colour)).toBeGreaterThan(8);
  for (const tint of Object.values(VERDICT_TINTS)) expect(contrast(tint, PAPER)).toBeGreaterThanOrEqual(5.9);
});

test.each([
  [0, -0.1, 0.1, 0],
  [0.1, -0.1, 0.1, 0],
  [0.1001, -0.1, 0.1, 1],
  [0.15, -0.1, 0.1, 1],
  [0.1501, -0.1, 0.1, 2],
  [0.2001, -0.1, 0.1, 3],
  [0.3001, -0.1, 0.1, 4],
  [-0.11, -0.1, 0.1, -1],
  [-0.25, -0.1, 0.1, -3],
  [-9, -0.1, 0.1, -4],
  [5, null, null, 0],
  [-5, null, 0.1, 0],
  [0.16, null, 0.1, 3],
  [0.12, null, 0.1, 1],
  [-0.26, -0.1, null, -4],
  [0.01, null, 0, 4],
] as const)('deviation %s in %s to %s is step %s', (deviation, lower, upper, step) => {
  expect(stepOf(deviation, lower, upper)).toBe(step);
});

test('red, green, blue', () => {
  expect(rgbOf('#485ABF')).toEqual([0x48, 0x5a, 0xbf]);
});
