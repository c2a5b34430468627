import { describe, expect, it } from 'vitest';
import { LEADING, type Piece, PRESSURE, TRAILING } from '../../samples/section-form.ts';
import { fitFromNominal } from '../../src/fit/fit-from-nominal.ts';
import { fitOutline } from '../../src/fit/fit-outline.ts';
import { interpolateOutline } from '../../src/fit/interpolate-outline.ts';
import { evaluateOutline, sampleOutline } from '../../src/fit/outline-evaluate.ts';
import { outlineFoot } from '../../src/fit/outline-foot.ts';
import type { FittedOutline } from '../../src/model/outline.ts';
import figures from '../accuracy/reference-figures.json' with { type: 'json' };
import { withNominalStatistics } from '../accuracy/with-nominal.ts';
import { exactNominal, exactPoints, smoothDeparture } from '../support/departed-section.ts';
import { withNormalNoise } from '../support/noise.ts';
import { outlineError } from '../support/outline-error.ts';
import {
  type Departure,
  REFERENCE_SECTIONS,
  type ReferenceSection,
  referencePoint,
  sectionPoints,
} from '../support/reference-sections.ts';
import { flatBackSection, nacaSection, sectionCorners, sectionPoints as testPoints } from '../support/sections.ts';

const NOISE = 0.005;
const { round, turbine } = REFERENCE_SECTIONS;

/** Points of a part with a departure, fitted from the exact nominal. */
function fitted(reference: ReferenceSection, departure: Departure, seed: number, counts = { edge: 400, flank: 600 }) {
  return fitFromNominal(exactNominal(reference), sectionPoints(reference, counts, NOISE, seed, departure), NOISE);
}

/** Distance (mm) of the true place of a departed section from a fitted outline. */
function missAt(
  fit: FittedOutline,
  reference: ReferenceSection,
  departure: Departure,
  piece: Piece,
  t: number,
): number {
  const out = new Float64Array(5);
  referencePoint(reference, piece, t, out);
  const off = departure(piece, t);
  return -outlineFoot(fit.outline, out[0] + off * out[2], out[1] + off * out[3]).distance;
}

function errorRms(fit: FittedOutline, points: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < points.length; i += 2) sum += outlineFoot(fit.outline, points[i], points[i + 1]).distance ** 2;
  return Math.sqrt((2 * sum) / points.length);
}

describe('outline from the nominal and a smooth deviation', () => {
  it('has far less error than a free fit, and states it', () => {
    for (const reference of Object.values(REFERENCE_SECTIONS)) {
      let [own, free, z, places] = [0, 0, 0, 0];
      for (let seed = 1; seed <= 3; seed++) {
        const departure = smoothDeparture(reference, seed);
        const exact = exactPoints(reference, { edge: 40, flank: 80 }, departure);
        const nominal = exactNominal(reference);
        const points = sectionPoints(reference, { edge: 400, flank: 600 }, NOISE, seed, departure);
        const fit = fitFromNominal(nominal, points, NOISE);
        if (!fit) throw new Error('The nominal did not serve.');
        expect(fit.basis).toBe('nominal');
        expect(fit.converged).toBe(true);
        expect(fit.setAside.length).toBeLessThanOrEqual(2);
        own += errorRms(fit, exact) ** 2;
        free += errorRms(fitOutline(points, { corners: [], sigma: NOISE, guide: nominal }), exact) ** 2;
        const truth = interpolateOutline(exactPoints(reference, { edge: 80, flank: 200 }, departure));
        const out = new Float64Array(8);
        for (let i = 0; i < fit.noise.at.length; i++) {
          evaluateOutline(fit.outline, fit.noise.at[i], out);
          z += (outlineFoot(truth, out[0], out[1]).distance / fit.noise.u[i]) ** 2;
          places++;
        }
      }
      expect(own).toBeLessThan(0.5 * free);
      expect(Math.sqrt(z / places)).toBeGreaterThan(0.85);
      expect(Math.sqrt(z / places)).toBeLessThan(1.15);
    }
  });

  it('keeps a nick and its depth', () => {
    const out = new Float64Array(5);
    const flankLength = 51;
    for (const [piece, middle] of [
      [PRESSURE, 0.3],
      [PRESSURE, 0.6],
    ] as const) {
      const smooth = smoothDeparture(round, 3);
      const depth = 0.15;
      const half = 0.2 / flankLength;
      const nick: Departure = (p, t) => {
        const off = p === piece ? Math.abs(t - middle) / half : 2;
        return smooth(p, t) - (off < 1 ? depth * Math.cos((Math.PI / 2) * off) ** 2 : 0);
      };
      const fit = fitted(round, nick, 5, { edge: 400, flank: 4000 });
      if (!fit) throw new Error('The nominal did not serve.');
      let weight = 0;
      let inside = 0;
      const nominal = exactNominal(round);
      fit.points.forEach((x, k) => {
        if (k % 2) return;
        const foot = outlineFoot(nominal, x, fit.points[k + 1]);
        referencePoint(round, piece, middle, out);
        if (Math.hypot(foot.x - out[0], foot.y - out[1]) > 0.15) return;
        weight += fit.weights[k / 2];
        inside++;
      });
      expect(inside).toBeGreaterThan(15);
      expect(weight / inside).toBeGreaterThan(0.8);
      expect(Math.abs(missAt(fit, round, nick, piece, middle))).toBeLessThan(0.1 * depth);
    }
  });

  it('keeps a flat on an edge', () => {
    // The nose cut off across its axis, 0.03 mm deep: 0.22 mm wide on a radius of 0.235 mm.
    const out = new Float64Array(5);
    const radius = 0.235;
    const cut = 0.03;
    referencePoint(round, LEADING, 0, out);
    const [x0, y0, nx0, ny0] = out;
    const flat: Departure = (piece, t) => {
      if (piece !== LEADING) return 0;
      referencePoint(round, LEADING, t, out);
      const cosine = out[2] * nx0 + out[3] * ny0;
      return Math.min(0, cosine > 0 ? (radius - cut) / cosine - radius : 0);
    };
    const fit = fitted(round, flat, 2);
    if (!fit) throw new Error('The nominal did not serve.');
    const misses: number[] = [];
    for (let across = -0.06; across <= 0.061; across += 0.02) {
      const x = x0 - cut * nx0 - across * ny0;
      const y = y0 - cut * ny0 + across * nx0;
      misses.push(outlineFoot(fit.outline, x, y).distance);
    }
    expect(Math.abs(misses[3])).toBeLessThan(0.1 * cut);
    for (const miss of misses) expect(Math.abs(miss)).toBeLessThan(0.8 * NOISE);
  });

  it('follows a step', () => {
    const step: Departure = (piece, t) =>
      piece === PRESSURE && t > 0.5
        ? 0.06
        : piece === TRAILING
          ? 0.06 * 0.5 * (1 + Math.cos(Math.PI * (0.5 - 0.5 * t)))
          : 0;
    const fit = fitted(turbine, step, 4, { edge: 400, flank: 2000 });
    if (!fit) throw new Error('The nominal did not serve.');
    expect(Math.abs(missAt(fit, turbine, step, PRESSURE, 0.49))).toBeLessThan(0.003);
    expect(Math.abs(missAt(fit, turbine, step, PRESSURE, 0.51))).toBeLessThan(0.003);
  });

  it('bridges a gap smoothly and states more doubt there', () => {
    const departure = smoothDeparture(turbine, 6);
    const out = new Float64Array(5);
    const all = sectionPoints(turbine, { edge: 400, flank: 600 }, NOISE, 6, departure);
    referencePoint(turbine, PRESSURE, 0.5, out);
    const kept: number[] = [];
    for (let i = 0; i < all.length; i += 2) {
      if (Math.hypot(all[i] - out[0], all[i + 1] - out[1]) > 2) kept.push(all[i], all[i + 1]);
    }
    const fit = fitFromNominal(exactNominal(turbine), Float64Array.from(kept), NOISE);
    if (!fit) throw new Error('The nominal did not serve.');
    expect(fit.gaps.length).toBe(1);
    const [from, to] = fit.gaps[0];
    const inside = fit.noise.u.filter((_, i) => fit.noise.at[i] > from && fit.noise.at[i] < to);
    const middle = fit.noise.u.slice().sort()[fit.noise.u.length >> 1];
    expect(Math.max(...inside)).toBeGreaterThan(1.5 * middle);
    expect(Math.abs(missAt(fit, turbine, departure, PRESSURE, 0.5))).toBeLessThan(3 * Math.max(...inside));
  });

  it('keeps the corners of a flat back where its sides meet, moved out or in', () => {
    const section = flatBackSection();
    const nominal = interpolateOutline(testPoints(section, 400), { corners: sectionCorners(section, 400) });
    for (const [side, back] of [
      [0.04, 0.03],
      [-0.04, -0.03],
      [0.04, -0.03],
    ]) {
      // All points scaled about the middle line; the back moved along it.
      const moved = flatBackSection(30 + back, 1 + side, 0.5 + side);
      const points = withNormalNoise(testPoints(moved, 3000), NOISE, 3);
      const fit = fitFromNominal(nominal, points, NOISE);
      if (!fit) throw new Error('The nominal did not serve.');
      expect(fit.outline.corners.length).toBe(2);
      const error = outlineError(fit.outline, moved.distance);
      expect(error.rms).toBeLessThan(0.0015);
      expect(error.max).toBeLessThan(0.012);
    }
  });

  it('leaves edges moved by more than half their radius, and sharp corners, to the free fit', () => {
    const oversize: Departure = (piece) => (piece === TRAILING ? 0.15 : 0);
    expect(fitted(round, oversize, 1)).toBeNull();
    const sharp = nacaSection(0.12, 40);
    const nominal = interpolateOutline(testPoints(sharp, 400), { corners: [0] });
    expect(fitFromNominal(nominal, withNormalNoise(testPoints(sharp, 2000), NOISE, 1), NOISE)).toBeNull();
  });

  it('gives the nominal itself to a nanometre where nothing departs from it', () => {
    const nominal = exactNominal(turbine);
    const at = Float64Array.from({ length: 1500 }, (_, i) => (nominal.period * i) / 1500);
    const fit = fitFromNominal(nominal, sampleOutline(nominal, at), 0.001);
    if (!fit) throw new Error('The nominal did not serve.');
    let worst = 0;
    const out = new Float64Array(8);
    for (let i = 0; i < 4000; i++) {
      evaluateOutline(fit.outline, (fit.outline.period * (i + 0.5)) / 4000, out);
      worst = Math.max(worst, Math.abs(outlineFoot(nominal, out[0], out[1]).distance));
    }
    expect(worst).toBeLessThan(1e-6);
  });
});

describe('measures on it', () => {
  it('have thicknesses at set-backs at least 30 % below those without a nominal', () => {
    const squares: number[] = [];
    for (const name of ['round', 'elliptic', 'turbine'] as const) {
      const rows = withNominalStatistics(name, NOISE, 1, 6);
      for (const row of ['le_thickness_1mm', 'le_thickness_2mm', 'te_thickness_1mm', 'te_thickness_2mm'] as const) {
        expect(rows.get(row)?.median).toBeLessThan(0.7 * figures[name][row][1][0]);
        squares.push((rows.get(row)?.z ?? Number.NaN) ** 2);
      }
    }
    const pooled = Math.sqrt(squares.reduce((sum, z) => sum + z, 0) / squares.length);
    expect(pooled).toBeGreaterThan(0.75);
    expect(pooled).toBeLessThan(1.2);
  });
});
