import { expect, test } from 'vitest';
import {
  decimalsFor,
  formatFixed,
  formatNumber,
  formatU,
  percentText,
  withUnit,
} from '../../src/report/format-number.ts';

test.each([
  [{}, 3],
  [{ unit: 'deg' }, 2],
  [{ unit: 'deg', limits: [-0.25, 0.25] }, 3],
  [{ limits: [0.2, 0.3], u: 0.004 }, 3],
  [{ limits: [0.0125, null] }, 5],
  [{ limits: [39.102255680001] }, 3],
  [{ limits: [0.2], u: 0.012 }, 2],
  [{ u: 0.5 }, 1],
  [{ u: 50 }, 0],
  [{ u: 0 }, 3],
] as const)('decimals for %j: %s', (style, decimals) => {
  expect(decimalsFor(style)).toBe(decimals);
});

test('signs and missing numbers', () => {
  expect(formatNumber(-0.1234)).toBe('−0.123');
  expect(formatNumber(-0.1234, { minus: '-' })).toBe('-0.123');
  expect(formatNumber(0.1234, { signed: true })).toBe('+0.123');
  expect(formatNumber(-0.0001, { signed: true })).toBe('0.000');
  expect(formatNumber(1234567.8)).toBe('1234567.800');
  expect(formatNumber(null)).toBe('–');
  expect(formatFixed(2.5, 0)).toBe('3');
  expect([formatU(0.004), formatU(0.0004), formatU(null)]).toEqual(['0.008', '0.0008', '–']);
  expect([withUnit('1.2', 'deg'), withUnit('1.2', 'mm2'), withUnit('0.8', '1')]).toEqual(['1.2°', '1.2 mm²', '0.8']);
});

test('a share below one never reads as all', () => {
  expect([percentText(1), percentText(0.99999), percentText(0.942), percentText(0)]).toEqual([
    '100.0 %',
    '99.9 %',
    '94.2 %',
    '0.0 %',
  ]);
});
