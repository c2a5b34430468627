import { describe, expect, it } from 'vitest';
import { fitOutline } from '../../src/fit/fit-outline.ts';
import { interpolateOutline } from '../../src/fit/interpolate-outline.ts';
import { evaluateOutline, outlineLength, sampleOutline } from '../../src/fit/outline-evaluate.ts';
import { outlineFoot } from '../../src/fit/outline-foot.ts';
import { movedPoints, reversedPoints, rotatedStart, withNormalNoise } from '../support/noise.ts';
import { outlineError } from '../support/outline-error.ts';
import {
  circleSection,
  discSection,
  ellipseSection,
  flatBackSection,
  nacaSection,
  plateSection,
  sectionPoints,
} from '../support/sections.ts';

const sections = [
  circleSection(5),
  ellipseSection(20, 2),
  plateSection(40, 1, 1),
  plateSection(40, 3, 1),
  discSection(),
  nacaSection(0.12, 40),
  flatBackSection(),
];

describe('closed least-squares fit', () => {
  for (const section of sections) {
    it(`of the ${section.name} averages 5 µm noise to below 1.5 µm`, () => {
      for (const count of [2000, 5000]) {
        let square = 0;
        for (let seed = 1; seed <= 4; seed++) {
          const fit = fitOutline(withNormalNoise(sectionPoints(section, count), 0.005, seed));
          expect(fit.converged).toBe(true);
          expect(fit.noise.sigma).toBeGreaterThan(0.0047);
          expect(fit.noise.sigma).toBeLessThan(0.0053);
          expect(fit.outline.corners.length).toBe(section.corners.length);
          expect(fit.gaps).toEqual([]);
          expect(fit.setAside.length).toBeLessThanOrEqual(2);
          square += outlineError(fit.outline, section.distance, 800).rms ** 2 / 4;
        }
        expect(Math.sqrt(square)).toBeLessThan(count === 2000 ? 0.0013 : 0.001);
      }
    });

    it(`of the ${section.name} passes through 4000 points free of noise`, () => {
      const fit = fitOutline(sectionPoints(section, 4000));
      expect(fit.rms).toBe(0);
      expect(outlineError(fit.outline, section.distance).rms).toBeLessThan(1e-6);
    });
  }

  it('has no bias at the edges, and states its uncertainty', () => {
    const section = discSection();
    let le = 0;
    let te = 0;
    let edges = 0;
    let square = 0;
    let beyond = 0;
    let count = 0;
    const seeds = 24;
    for (let seed = 1; seed <= seeds; seed++) {
      const fit = fitOutline(withNormalNoise(sectionPoints(section, 4000), 0.005, seed));
      const places = sampleOutline(fit.outline, fit.noise.at);
      for (let i = 0; i < fit.noise.at.length; i++) {
        const z = section.distance(places[2 * i], places[2 * i + 1]) / fit.noise.u[i];
        square += z * z;
        count++;
        if (Math.abs(z) > 2) beyond++;
      }
      for (let j = -4; j <= 4; j++) {
        const angle = (j * Math.PI) / 15;
        const nose = outlineFoot(fit.outline, -17.101007 - 0.5 * Math.cos(angle), 0.5 * Math.sin(angle));
        const tail = outlineFoot(fit.outline, 17.101007 + 0.3 * Math.cos(angle), 0.3 * Math.sin(angle));
        le -= nose.distance / (9 * seeds);
        te -= tail.distance / (9 * seeds);
        edges += (nose.distance ** 2 + tail.distance ** 2) / (18 * seeds);
      }
    }
    const spread = Math.sqrt(edges);
    expect(spread).toBeLessThan(0.003);
    expect(Math.abs(le)).toBeLessThan(spread / 3);
    expect(Math.abs(te)).toBeLessThan(spread / 3);
    expect(Math.sqrt(square / count)).toBeGreaterThan(0.8);
    expect(Math.sqrt(square / count)).toBeLessThan(1.2);
    expect(beyond / count).toBeLessThan(0.08);
  });

  it('sets stray points aside and lists them, but keeps a nick of some length', () => {
    const section = discSection();
    const points = withNormalNoise(sectionPoints(section, 3000), 0.003, 5);
    const strays = [150, 700, 1480, 2000, 2790];
    for (const i of strays) points[2 * i + 1] += 0.15;
    const fit = fitOutline(points);
    expect(fit.setAside.filter((i) => strays.includes(i))).toEqual(strays);
    expect(fit.setAside.length).toBeLessThan(9);
    expect(fit.outline.corners.length).toBe(0);
    expect(outlineError(fit.outline, section.distance).rms).toBeLessThan(0.001);
    const nicked = withNormalNoise(sectionPoints(section, 3000), 0.003, 6);
    for (let i = 500; i < 540; i++) nicked[2 * i + 1] += 0.06 * Math.sin((Math.PI * (i - 500)) / 40) ** 2;
    const kept = fitOutline(nicked);
    const foot = outlineFoot(kept.outline, nicked[2 * 520], nicked[2 * 520 + 1]);
    expect(Math.abs(foot.distance)).toBeLessThan(0.01);
    expect(kept.setAside.filter((i) => i >= 500 && i < 540)).toEqual([]);
  });

  it('bridges a gap, lists it, and is less sure there', () => {
    const section = ellipseSection(20, 4);
    const all = withNormalNoise(sectionPoints(section, 2400), 0.004, 3);
    const points = Float64Array.from([...all.slice(0, 2 * 500), ...all.slice(2 * 900)]);
    const fit = fitOutline(points, { corners: [] });
    expect(fit.gaps.length).toBe(1);
    const [from, to] = fit.gaps[0];
    expect(to - from).toBeCloseTo((401 * 82.4) / 2400, 0);
    expect(outlineError(fit.outline, section.distance).max).toBeLessThan(0.05);
    const inside = fit.noise.u.filter((_, i) => fit.noise.at[i] > from && fit.noise.at[i] < to);
    const median = fit.noise.u.slice().sort()[fit.noise.u.length >> 1];
    expect(Math.max(...inside)).toBeGreaterThan(1.5 * median);
  });

  it('takes parameters from a guide', () => {
    const section = discSection();
    const guide = interpolateOutline(movedPoints(sectionPoints(section, 400), 0.002, 0.03, -0.02));
    const fit = fitOutline(withNormalNoise(sectionPoints(section, 3000), 0.005, 9), { guide });
    expect(fit.converged).toBe(true);
    expect(outlineError(fit.outline, section.distance).rms).toBeLessThan(0.0011);
  });

  it('does not depend on place, direction or start of the points', () => {
    const section = discSection();
    const points = withNormalNoise(sectionPoints(section, 2500), 0.004, 12);
    const plain = fitOutline(points).outline;
    const angle = 0.7;
    const moved = fitOutline(movedPoints(points, angle, 300, -80)).outline;
    const backward = fitOutline(reversedPoints(points)).outline;
    const later = fitOutline(rotatedStart(points, 617)).outline;
    const out = new Float64Array(8);
    for (let i = 0; i < 200; i++) {
      evaluateOutline(plain, (plain.period * i) / 200, out);
      const place = movedPoints(out.slice(0, 2), angle, 300, -80);
      expect(Math.abs(outlineFoot(moved, place[0], place[1]).distance)).toBeLessThan(1e-6);
      expect(Math.abs(outlineFoot(backward, out[0], out[1]).distance)).toBeLessThan(1e-6);
      expect(Math.abs(outlineFoot(later, out[0], out[1]).distance)).toBeLessThan(1e-6);
    }
    const perimeter = outlineLength(plain, 0, plain.period);
    expect(outlineLength(later, 0, later.period)).toBeCloseTo(perimeter, 6);
  });

  it('refuses too few points', () => {
    expect(() => fitOutline(new Float64Array(10))).toThrow(/at least 8 points/);
  });
});
