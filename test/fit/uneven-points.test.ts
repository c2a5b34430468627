import { describe, expect, it } from 'vitest';
import { localDistance, localPoint } from '../../samples/disk-envelope.ts';
import { LEADING, type Piece, PRESSURE, type SectionForm, SUCTION, TRAILING } from '../../samples/section-form.ts';
import { fitOutline } from '../../src/fit/fit-outline.ts';
import { interpolateOutline } from '../../src/fit/interpolate-outline.ts';
import { outlineFoot } from '../../src/fit/outline-foot.ts';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import { outlineError } from '../support/outline-error.ts';

const DEG = Math.PI / 180;

function form(
  centres: number,
  camber: number,
  most: number,
  leading: number,
  trailing: number,
  ratio = 1,
): SectionForm {
  const turning = camber * DEG;
  const arcRadius = centres / (2 * Math.sin(turning / 2));
  return { arcRadius, turning, leading, trailing, most, offset: 0, angle: 0, x: 0, y: 0, ratio, peak: 0.4 };
}

const forms: [string, SectionForm][] = [
  ['round', form(50.5, 28, 1.65, 0.235, 0.19)],
  ['elliptic', form(66.3, 42, 2.3, 0.421, 0.303, 2.5)],
  ['turbine', form(34.6, 86, 2.65, 1.225, 0.275)],
];

const STEPS = 2000;

/** Random points by arc length in counter-clockwise order, with normal noise along the true normal. */
function randomPoints(section: SectionForm, edge: number, flank: number, sigma: number, seed: number): Float64Array {
  const uniform = seededRandom(seed);
  const normal = normalFrom(seededRandom(seed + 1000));
  const out = new Float64Array(5);
  const points: number[] = [];
  for (const [piece, from, to, count] of [
    [LEADING, -1, 1, edge],
    [PRESSURE, 0, 1, flank],
    [TRAILING, 1, -1, edge],
    [SUCTION, 1, 0, flank],
  ] as [Piece, number, number, number][]) {
    const length = new Float64Array(STEPS + 1);
    for (let i = 0; i < STEPS; i++) {
      localPoint(section, piece, from + ((to - from) * (i + 0.5)) / STEPS, out);
      length[i + 1] = length[i] + out[4];
    }
    const wanted = Float64Array.from({ length: count }, () => uniform() * length[STEPS]).sort();
    let i = 0;
    for (const s of wanted) {
      while (length[i + 1] < s) i++;
      const f = (i + (s - length[i]) / (length[i + 1] - length[i])) / STEPS;
      localPoint(section, piece, from + (to - from) * f, out);
      const off = sigma * normal();
      points.push(out[0] + off * out[2], out[1] + off * out[3]);
    }
  }
  return Float64Array.from(points);
}

function distanceTo(section: SectionForm): (x: number, y: number) => number {
  const out = new Float64Array(3);
  return (x, y) => {
    localDistance(section, x, y, out);
    return out[0];
  };
}

describe('fit to randomly spaced points', () => {
  for (const [name, section] of forms) {
    it(`of the ${name} section is never wild and has no bias at the edges`, () => {
      const seeds = 20;
      const out = new Float64Array(5);
      const mean = [0, 0];
      const square = [0, 0];
      const all: number[] = [];
      for (let seed = 1; seed <= seeds; seed++) {
        const { outline, noise, gaps } = fitOutline(randomPoints(section, 400, 600, 0.005, seed));
        const error = outlineError(outline, distanceTo(section), 1000);
        expect(error.rms, `seed ${seed}`).toBeLessThan(0.0017);
        expect(error.max, `seed ${seed}`).toBeLessThan(0.009);
        expect(noise.sigma).toBeGreaterThan(0.0046);
        expect(noise.sigma).toBeLessThan(0.0055);
        expect(gaps.length).toBeLessThanOrEqual(2);
        all.push(error.rms);
        [LEADING, TRAILING].forEach((piece, e) => {
          for (let j = -4; j <= 4; j++) {
            localPoint(section, piece as Piece, j / 5, out);
            const off = -outlineFoot(outline, out[0], out[1]).distance;
            mean[e] += off / (9 * seeds);
            square[e] += (off * off) / (9 * seeds);
          }
        });
      }
      expect(all.sort((a, b) => a - b)[seeds / 2]).toBeLessThan(0.0015);
      for (const e of [0, 1]) expect(Math.abs(mean[e])).toBeLessThan(Math.sqrt(square[e]) / 3);
    });
  }

  it('stands a rough guide', () => {
    const [, section] = forms[0];
    const guide = interpolateOutline(randomPoints(section, 40, 300, 0.02, 77));
    for (let seed = 1; seed <= 4; seed++) {
      const points = randomPoints(section, 400, 600, 0.005, seed);
      const { outline } = fitOutline(points, { guide, sigma: 0.005, corners: [] });
      expect(outlineError(outline, distanceTo(section), 1000).rms).toBeLessThan(0.002);
    }
  });

  it('says that it has not settled and stays near the points', () => {
    const [, section] = forms[0];
    const points = randomPoints(section, 400, 600, 0.01, 3);
    expect(fitOutline(points).converged).toBe(true);
    // Two rounds only lay knots: none is left to see whether the feet stand still.
    const fit = fitOutline(points, { maxIterations: 2 });
    expect(fit.converged).toBe(false);
    expect(fit.iterations).toBe(2);
    expect(outlineError(fit.outline, distanceTo(section), 1000).max).toBeLessThan(0.06);
  });
});
