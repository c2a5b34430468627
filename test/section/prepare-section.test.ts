import { describe, expect, it } from 'vitest';
import { prepareSection } from '../../src/section/prepare-section.ts';
import { reversedPoints, rotatedStart } from '../support/noise.ts';
import { discSection, flatBackSection, sectionPoints } from '../support/sections.ts';

function area(points: Float64Array): number {
  let sum = 0;
  for (let i = 0, j = points.length - 2; i < points.length; j = i, i += 2) {
    sum += points[j] * points[i + 1] - points[i] * points[j + 1];
  }
  return sum / 2;
}

describe('section preparation', () => {
  const plain = sectionPoints(discSection(), 500);

  it('gives the same outline whatever the start, direction and repeats', () => {
    const expected = prepareSection(plain);
    expect(expected.closed).toBe(true);
    expect(area(expected.points)).toBeGreaterThan(88);
    const repeated = Float64Array.from([...plain.slice(0, 20), ...plain.slice(18), ...plain.slice(0, 2)]);
    for (const variant of [repeated, rotatedStart(plain, 171)]) {
      const made = prepareSection(variant);
      expect(made.points).toEqual(expected.points);
      expect(made.reversed).toBe(false);
      made.source.forEach((from, i) => {
        expect(variant[2 * from]).toBe(made.points[2 * i]);
      });
    }
    const turned = prepareSection(reversedPoints(plain));
    expect(turned.reversed).toBe(true);
    expect(turned.points.length).toBe(expected.points.length);
    expect(area(turned.points)).toBeCloseTo(area(expected.points), 9);
  });

  it('starts on the middle of a flank', () => {
    expect(Math.abs(prepareSection(plain).points[0])).toBeLessThan(2);
  });

  it('sees an open trailing edge and makes its ends corners', () => {
    const section = flatBackSection();
    const closedPoints = sectionPoints(section, 600);
    const upper = section.stretches[2](0);
    const at = (p: readonly number[]) => {
      for (let i = 0; i < closedPoints.length; i += 2)
        if (closedPoints[i] === p[0] && closedPoints[i + 1] === p[1]) return i / 2;
      return -1;
    };
    const from = at(upper);
    const flat = from - at(section.stretches[1](0));
    expect(flat).toBeGreaterThan(5);
    const started = rotatedStart(closedPoints, from);
    const open = started.slice(0, started.length - 2 * (flat - 1));
    for (const given of [open, reversedPoints(open)]) {
      const made = prepareSection(given);
      expect(made.closed).toBe(false);
      expect(made.corners).toEqual([0, made.points.length / 2 - 1]);
      expect(made.points[0]).toBe(30);
      expect(area(made.points)).toBeCloseTo(area(closedPoints), 9);
    }
    expect(prepareSection(closedPoints).closed).toBe(true);
  });

  it('refuses fewer than three distinct points', () => {
    expect(() => prepareSection(Float64Array.of(0, 0, 1, 0, 0, 0))).toThrow(/at least 3 distinct/);
  });
});
