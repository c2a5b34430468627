import { describe, expect, test } from 'vitest';
import { fade, fadeMost } from '../../src/stock/blend-fade.ts';

describe('fading a mismatch', () => {
  test('0.05 over 6 by the quintic is 1 in 64', () => {
    expect(fadeMost('quintic', 0.05, 6).slope).toBeCloseTo(0.015625, 12);
    expect(fadeMost('quintic', 1, 1).bend).toBeCloseTo(5.7735, 4);
    expect(fadeMost('cubic', -0.05, 6).slope).toBeCloseTo((1.5 * 0.05) / 6, 12);
    expect(fadeMost('cubic', 0.05, 6).bend).toBeCloseTo((6 * 0.05) / 36, 12);
  });

  test.each(['cubic', 'quintic'] as const)('%s: derivatives, ends and most', (kind) => {
    const b = 7;
    const h = 1e-4;
    let slope = 0;
    let bend = 0;
    for (let i = 1; i < 2000; i++) {
      const s = (i / 2000) * b;
      const at = fade(kind, s, b);
      const [before, after] = [fade(kind, s - h, b), fade(kind, s + h, b)];
      expect((after.value - before.value) / (2 * h)).toBeCloseTo(at.slope, 7);
      if (i > 1 && i < 1999) expect((after.slope - before.slope) / (2 * h)).toBeCloseTo(at.bend, 7);
      slope = Math.max(slope, Math.abs(at.slope));
      bend = Math.max(bend, Math.abs(at.bend));
    }
    const most = fadeMost(kind, 1, b);
    expect(slope / most.slope).toBeCloseTo(1, 5);
    expect(bend / most.bend).toBeGreaterThan(0.998);
    expect(bend).toBeLessThanOrEqual(most.bend * (1 + 1e-12));
    expect(fade(kind, 0, b).value).toBe(1);
    expect(fade(kind, b, b).value).toBe(0);
    const nearEnd = fade(kind, b * 1e-6, b).bend * b * b;
    if (kind === 'quintic') expect(nearEnd).toBeCloseTo(0, 3);
    else expect(nearEnd).toBeCloseTo(-6, 3);
  });
});
