import { describe, expect, it } from 'vitest';
import { fitMeasured } from '../../src/fit/fit-measured.ts';
import { nominalOutline } from '../../src/fit/nominal-outline.ts';
import { outlineFoot } from '../../src/fit/outline-foot.ts';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import type { CarriedSection } from '../../src/section/carry-points.ts';
import { levelSection } from '../../src/section/surface-section.ts';
import { exactTarget } from '../support/exact-nominal.ts';

const NOISE = 0.005;
const COUNT = 2000;
const { surface } = exactTarget(5, 400);
const on = levelSection(surface, 60);
const low = surface.columns[0];
const turn = surface.columns[surface.columns.length - 1] - low;
const wave = (u: number) => 0.03 * Math.sin((4 * Math.PI * (u - low)) / turn);

/** Points carried to the section, their deviation a wave with noise, those with `u` in the gap left out. */
function carried(noise: number, gap: [number, number] = [0, 0]): CarriedSection {
  const uniform = seededRandom(7);
  const normal = normalFrom(seededRandom(8));
  const u = Float64Array.from({ length: COUNT }, () => low + turn * uniform())
    .sort()
    .filter((at) => at <= gap[0] || at >= gap[1]);
  const deviation = u.map((at) => wave(at) + noise * normal());
  const points = new Float64Array(2 * u.length);
  u.forEach((at, i) => {
    on.carry(at, deviation[i], points.subarray(2 * i, 2 * i + 2));
  });
  return { on, height: 60, points, u, deviation, source: Uint32Array.from(u.keys()) };
}

/** Root mean square error (mm) of an outline at true places. */
function errorOf(outline: Parameters<typeof outlineFoot>[0]): number {
  const place = new Float64Array(2);
  let sum = 0;
  for (let i = 0; i < 500; i++) {
    const at = low + (turn * (i + 0.5)) / 500;
    on.carry(at, wave(at), place);
    sum += outlineFoot(outline, place[0], place[1]).distance ** 2 / 500;
  }
  return Math.sqrt(sum);
}

describe('measured outline', () => {
  const nominal = nominalOutline(on);

  it('is the nominal moved by a smooth deviation, closer than the free fit', () => {
    const section = carried(NOISE);
    const own = fitMeasured(surface, nominal, section, NOISE);
    const free = fitMeasured(surface, nominal, section, NOISE, 'free');
    expect([own?.fitted.basis, free?.fitted.basis]).toEqual(['nominal', 'free']);
    expect(errorOf(own!.fitted.outline)).toBeLessThan(0.8 * errorOf(free!.fitted.outline));
    expect(own?.fitted.points.length).toBe(2 * COUNT);
    expect(own?.gaps).toEqual([]);
  });

  it('names the gap in its own parameter', () => {
    const own = fitMeasured(surface, nominal, carried(NOISE, [5, 9]), NOISE);
    expect(own?.fitted.basis).toBe('nominal');
    expect(own?.fitted.gaps.length).toBe(1);
    const [from, to] = own!.fitted.gaps[0];
    expect(to - from).toBeGreaterThan(3.8);
    expect(to - from).toBeLessThan(4.5);
    expect(own?.coverage).toBeLessThan(1 - 3.9 / turn);
  });

  it('is free for exact points', () => {
    const own = fitMeasured(surface, nominal, carried(0), 0);
    expect(own?.fitted.basis).toBe('free');
    expect(errorOf(own!.fitted.outline)).toBeLessThan(1e-4);
  });
});
