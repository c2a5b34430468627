import { describe, expect, it } from 'vitest';
import {
  formatBytes,
  formatCount,
  formatNumber,
  formatSeconds,
  parseNumber,
  showResult,
} from '../../../components/controls/format.ts';

describe('numbers on screen', () => {
  it('uses a true minus, the chosen mark, and no sign on zero', () => {
    expect(formatNumber(-0.4567, 3)).toBe('−0.457');
    expect(formatNumber(-0.4567, 3, ',')).toBe('−0,457');
    expect(formatNumber(-0.0001, 2)).toBe('0.00');
    expect(formatNumber(0.25, 2, '.', true)).toBe('+0.25');
    expect(formatNumber(null, 2)).toBe('–');
    expect(formatNumber(10480, 0)).toBe('10480');
  });
  it('takes the decimals of a result from limits and uncertainty', () => {
    expect(showResult(0.18649, { unit: 'mm', limits: [0.2, 0.3], u: 0.004 }, '.')).toBe('0.186');
    expect(showResult(0.18649, { unit: 'mm', limits: [0.2, 0.3], u: 0.04 }, ',')).toBe('0,19');
  });
  it('reads point and comma as decimal mark and refuses everything else', () => {
    expect(parseNumber(' 0,435 ')).toBe(0.435);
    expect(parseNumber('−1.5')).toBe(-1.5);
    for (const text of ['', '1.2.3', '1,234.5', 'x', '1e3']) expect(parseNumber(text)).toBeNull();
  });
  it('writes sizes, counts and times in words people use', () => {
    expect(formatBytes(999)).toBe('999 B');
    expect(formatBytes(498e6)).toBe('498 MB');
    expect(formatBytes(1536)).toBe('1.5 kB');
    expect(formatCount(8_100_000)).toBe('8.1 million');
    expect(formatCount(52_030)).toBe('52 030');
    expect(formatSeconds(125)).toBe('2 min 05 s');
  });
});
