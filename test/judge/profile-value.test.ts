import { expect, test } from 'vitest';
import { governingExtreme, profileValue } from '../../src/judge/profile-value.ts';
import { seededRandom } from '../../src/math/random.ts';

const ZONE = { plus: 0.2, minus: 0.1 };

test('an unequal zone is judged about its own middle', () => {
  // Deviation −0.08 … +0.17 in −0.10/+0.20: 0.30 + 2 max(−0.03, −0.02) = 0.26; twice the largest amount would say 0.34.
  expect(profileValue(-0.08, 0.17, ZONE)).toBeCloseTo(0.26, 12);
});

test('equals twice the largest distance from the zone centre (seed 3)', () => {
  const random = seededRandom(3);
  for (let i = 0; i < 200; i++) {
    const zone = { plus: random(), minus: random() };
    const a = 2 * random() - 1;
    const b = a + random();
    const centre = (zone.plus - zone.minus) / 2;
    expect(profileValue(a, b, zone)).toBeCloseTo(2 * Math.max(Math.abs(a - centre), Math.abs(b - centre)), 12);
    expect(profileValue(a, b, zone) <= zone.plus + zone.minus + 1e-12).toBe(
      a >= -zone.minus - 1e-12 && b <= zone.plus + 1e-12,
    );
  }
});

test('the extreme that reaches farther beyond its limit governs', () => {
  // Margins −0.02 at the least and −0.03 at the most; then −0.02 and −0.01.
  expect(governingExtreme(-0.08, 0.17, ZONE)).toBe('least');
  expect(governingExtreme(-0.08, 0.19, ZONE)).toBe('most');
});
