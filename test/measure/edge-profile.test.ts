import { describe, expect, it } from 'vitest';
import { fitOutline } from '../../src/fit/fit-outline.ts';
import { findSectionEdges } from '../../src/fit/section-edges.ts';
import { measureBy } from '../../src/measure/definitions/definitions.ts';
import { leastSquaresMotion, minimaxMotion } from '../../src/measure/linear-motion.ts';
import { MEASURE_DEFAULTS } from '../../src/measure/measure-options.ts';
import { type SectionContext, sectionContext } from '../../src/measure/section-context.ts';
import type { Parameters, Value } from '../../src/model/value.ts';
import { carriedTo } from './carried.ts';
import { misfit, noisyPoints } from './noisy.ts';
import { CAMBERED, diskPoints, moved, sectionOf } from './shapes.ts';

const points = diskPoints(CAMBERED, 700, 1200);
const nominal = sectionContext(sectionOf(points), MEASURE_DEFAULTS);
const TURN = (20 * Math.PI) / 180;

function profile(
  id: string,
  shape: Float64Array,
  given: Parameters = {},
  edge: 'leading' | 'trailing' = 'leading',
): Value {
  const context = sectionContext(sectionOf(shape), MEASURE_DEFAULTS);
  return measureOf(context, shape, id, given, edge);
}

function measureOf(
  context: SectionContext,
  shape: Float64Array,
  id: string,
  given: Parameters,
  edge: 'leading' | 'trailing',
): Value {
  const against = { nominal, carried: carriedTo(nominal, context, shape) };
  return measureBy({ context, edge, flank: null, at: null, against }, 'edge-profile', id, given);
}

/** Points moved along the leading end of the line of centres (which rises at 20 degrees there), and across it. */
function shifted(along: number, across: number): Float64Array {
  const [ox, oy] = [-Math.cos(TURN), -Math.sin(TURN)];
  return moved(points, 0, [0, 0], along * ox + across * oy, along * oy - across * ox);
}

describe('minimax motion', () => {
  it('levels the three largest of a line: a + b x at x = −3, −1, 1, 3 with 0, 3, 0, 1 leaves at most 1.5', () => {
    const rows = [-3, -1, 1, 3].map((x) => [1, x]);
    const found = minimaxMotion(rows, Float64Array.of(0, 3, 0, 1));
    expect(Math.max(...(found?.left ?? []).map(Math.abs))).toBeCloseTo(1.5, 4);
    const squares = leastSquaresMotion(rows, Float64Array.of(0, 3, 0, 1));
    expect(Math.max(...(squares?.left ?? []).map(Math.abs))).toBeCloseTo(2, 12);
  });
});

describe('profile of an edge', () => {
  it('reads twice a pure shift in the placement and nothing after a fit of the zone', () => {
    const shape = shifted(0.02, 0);
    // A run of 0.02 mm on a radius of 0.5 mm sees the mean cosine over ±0.02.
    const datum = profile('PROFILE-DATUM', shape, { run: 0.02 });
    expect(Math.abs((datum.value as number) / 0.04 - 1)).toBeLessThan(1e-3);
    expect(datum.u).toBeNull();
    const local = profile('PROFILE-LOCAL', shape, { run: 0.02 });
    expect(local.value as number).toBeLessThan(1e-6);
    expect(local.evidence?.shiftAlong).toBeCloseTo(0.02, 6);
    expect(local.evidence?.shiftAcross).toBeCloseTo(0, 6);
  });

  it('lists the shift across towards the suction side, at either edge', () => {
    const up = moved(points, 0, [0, 0], 0, 0.01);
    for (const edge of ['leading', 'trailing'] as const) {
      const local = profile('PROFILE-LOCAL', up, {}, edge);
      expect(local.value as number).toBeLessThan(1e-6);
      expect(local.evidence?.shiftAcross).toBeCloseTo(0.01 * Math.cos(TURN), 5);
    }
  });

  it('takes up a turn of the edge only when told to', () => {
    const nose = nominal.leading;
    const turned = moved(points, 0.01, [nose?.pointX ?? 0, nose?.pointY ?? 0], 0, 0);
    const free = profile('PROFILE-LOCAL', turned, { rotation: 'yes' });
    expect(free.value as number).toBeLessThan(1e-6);
    expect(free.evidence?.turnDeg).toBeCloseTo((0.01 * 180) / Math.PI, 4);
    expect(profile('PROFILE-LOCAL', turned).value as number).toBeGreaterThan(1e-3);
  });

  it('keeps a form fault apart from the shift: an edge grown by 0.01 mm all round', () => {
    const grown = sectionOf(points).outline;
    const shape = noisyPoints(grown, points, 0, 1).map((value, k) => value + 0.01 * normalAt(k));
    expect(profile('PROFILE-DATUM', shape).value as number).toBeCloseTo(0.02, 5);
    const local = profile('PROFILE-LOCAL', shape).value as number;
    expect(local).toBeGreaterThan(0.005);
    expect(local).toBeLessThan(0.02);
  });

  it('finds with minimax a zone no wider than with least squares, and the same for a pure shift', () => {
    const shape = points.map((value, k) => value + (k % 2 === 0 ? 0.01 : 0.004) * normalAt(k));
    const of = (criterion: string) => profile('PROFILE-LOCAL', shape, { criterion });
    const [squares, minimax] = [of('least squares'), of('minimax')];
    expect(minimax.value as number).toBeLessThan(squares.value as number);
    expect(minimax.evidence?.most).toBeCloseTo(-(minimax.evidence?.least as number), 5);
    const shift = profile('PROFILE-LOCAL', shifted(0.02, 0), { criterion: 'minimax' });
    expect(shift.value as number).toBeLessThan(1e-6);
    expect(shift.evidence?.shiftAlong).toBeCloseTo(0.02, 6);
  });

  it('uses the given set-back, else 5 % of the chord or three edge radii', () => {
    expect(profile('PROFILE-DATUM', points).evidence?.setback).toBeCloseTo(0.05 * nominal.far.length, 6);
    expect(profile('PROFILE-DATUM', points, { setback: 2.5 }).evidence?.setback).toBe(2.5);
  });

  it('is not measured without points at the edge', () => {
    const context = sectionContext({ ...sectionOf(points), covered: () => false }, MEASURE_DEFAULTS);
    expect(measureOf(context, points, 'PROFILE-DATUM', {}, 'leading').status).toBe('not-measured');
  });

  it('states its uncertainty: 4 µm noise, 8 seeds', () => {
    const SIGMA = 0.004;
    const shape = shifted(0.02, 0);
    const exact = sectionOf(shape).outline;
    const values = Array.from({ length: 8 }, (_, seed) => {
      const noisy = noisyPoints(exact, thinned(shape), SIGMA, seed + 1);
      const fitted = fitOutline(noisy, { sigma: SIGMA });
      const edges = findSectionEdges(fitted.outline);
      const context = sectionContext({ outline: fitted.outline, edges, fitted }, MEASURE_DEFAULTS);
      return ['PROFILE-DATUM', 'PROFILE-LOCAL'].map((id) => measureOf(context, noisy, id, {}, 'leading'));
    });
    const datum = values.map((pair) => pair[0]);
    const ratio = misfit(datum, 0.04);
    expect(ratio).toBeGreaterThan(0.4);
    expect(ratio).toBeLessThan(1.7);
    for (const [placed, local] of values) {
      expect(placed.u as number).toBeLessThan(0.004);
      expect(local.value as number).toBeLessThan(
        (local.evidence?.raw as number) - 0.2 * (local.evidence?.bias as number),
      );
    }
  });
});

/** Every third point. */
function thinned(shape: Float64Array): Float64Array {
  return shape.filter((_, k) => (k >> 1) % 3 === 0);
}

/** Component of the nominal's outward normal at a point, by differences of its neighbours. */
function normalAt(k: number): number {
  const n = points.length / 2;
  const i = k >> 1;
  const [a, b] = [(i + n - 1) % n, (i + 1) % n];
  const dx = points[2 * b] - points[2 * a];
  const dy = points[2 * b + 1] - points[2 * a + 1];
  return (k % 2 === 0 ? dy : -dx) / Math.hypot(dx, dy);
}
