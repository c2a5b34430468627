import { describe, expect, it } from 'vitest';
import { fitFromNominal } from '../../src/fit/fit-from-nominal.ts';
import { fitOutline } from '../../src/fit/fit-outline.ts';
import { interpolateOutline } from '../../src/fit/interpolate-outline.ts';
import { displacementDraws, displacementUncertainty } from '../../src/fit/outline-posterior.ts';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import type { FittedOutline } from '../../src/model/outline.ts';

const COUNT = 1500;
const SIGMA = 0.004;

/** Ellipse 40 × 8 with waves of an amplitude and noise along its normals. */
function ellipse(count: number, waves: number, sigma: number): Float64Array {
  const normal = normalFrom(seededRandom(5));
  const points = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    const angle = (2 * Math.PI * i) / count;
    const [nx, ny] = [4 * Math.cos(angle), 20 * Math.sin(angle)];
    const off = (waves * Math.sin(7 * angle) + sigma * normal()) / Math.hypot(nx, ny);
    points[2 * i] = 20 * Math.cos(angle) + off * nx;
    points[2 * i + 1] = 4 * Math.sin(angle) + off * ny;
  }
  return points;
}

const points = ellipse(COUNT, 0.05, SIGMA);
const alone = fitOutline(points);
const moved = fitFromNominal(interpolateOutline(ellipse(800, 0, 0)), points, SIGMA);
const fits: [string, FittedOutline | null][] = [
  ['points alone', alone],
  ['points and a nominal', moved],
];

describe.each(fits)('posterior covariance of a fit to %s', (_, fitted) => {
  if (!fitted) throw new Error('no fit');
  const { outline, noise } = fitted;
  const of = (...terms: { t: number; gain: number }[]) => displacementUncertainty(outline, noise, terms) ?? Number.NaN;

  it('gives a single place the uncertainty of the table', () => {
    noise.at.forEach((t, i) => {
      if (i % 7 === 0) expect(of({ t, gain: 1 }) / noise.u[i]).toBeCloseTo(1, 2);
    });
  });

  it('knows that places side by side err together and places far apart on their own', () => {
    const t = noise.at[20];
    const near = t + 3e-4 * outline.period;
    const far = t + 0.5 * outline.period;
    const u = of({ t, gain: 1 });
    expect(of({ t, gain: 1 }, { t: near, gain: -1 })).toBeLessThan(0.2 * u);
    expect(of({ t, gain: 1 }, { t: far, gain: -1 }) / Math.hypot(u, of({ t: far, gain: 1 }))).toBeCloseTo(1, 1);
  });

  it('is that of its draws, but for the doubt of what smoothing hides', () => {
    const at = Float64Array.from({ length: 40 }, (_, i) => (i / 40) * outline.period);
    const draw = displacementDraws(fitted, at);
    const normal = normalFrom(seededRandom(9));
    let ratio = 0;
    const runs = 100;
    for (let run = 0; run < runs; run++) {
      const d = draw(normal);
      at.forEach((t, i) => {
        ratio += (d[i] / of({ t, gain: 1 })) ** 2 / (runs * at.length);
      });
    }
    // Of a third-derivative penalty 5/6 of the posterior variance is noise on a long even outline.
    expect(ratio).toBeGreaterThan(0.6);
    expect(ratio).toBeLessThan(1);
  });
});

it('has no posterior where the outline passes through its points', () => {
  const exact = fitOutline(ellipse(400, 0, 0));
  expect(displacementUncertainty(exact.outline, exact.noise, [{ t: 0, gain: 1 }])).toBeNull();
});
