import { describe, expect, test } from 'vitest';
import { EDGE_CLASS_DEFAULTS, edgeClass } from '../../src/measure/edge-class.ts';
import { EDGE, EDGE_CHANGES, edgeClassStatistics, flatOf, fuller, noisyEdge } from '../accuracy/edge-classes.ts';

const SEEDS = 40;
const CHANGE = 0.02;

describe(`${SEEDS} edges each of R 0.25, 400 points, 5 µm noise`, () => {
  const found = edgeClassStatistics(1, SEEDS);
  test.each(EDGE_CHANGES)('$kind: $name', ({ kind, name }) => {
    // One in a hundred: none of these.
    expect(found.get(`${kind}: ${name}`)).toEqual({ wrong: 0, count: SEEDS });
  });
});

test.each([
  ['the largest departure of a blunt edge', fuller(-CHANGE), -CHANGE],
  ['the offset of a larger edge', () => 0.012, 0.012],
])('the amplitude is %s, and its uncertainty its scatter', (_name, change, truth) => {
  let sum = 0;
  let chi = 0;
  for (let seed = 1; seed <= 40; seed++) {
    const { amplitude, u } = edgeClass(noisyEdge(seed, change), EDGE.noise);
    sum += amplitude;
    chi += ((amplitude - truth) / u) ** 2;
  }
  expect(Math.abs(sum / 40 / truth - 1)).toBeLessThan(0.05);
  expect(chi / 40).toBeGreaterThan(0.4);
  expect(chi / 40).toBeLessThan(2);
});

test('a flat has its place, width and sagitta, on a larger edge too', () => {
  const flat = flatOf(0.35, CHANGE);
  for (const size of [0, 0.015]) {
    const { kind, angle, width, amplitude, confidence } = edgeClass(
      noisyEdge(7, (a) => flat(a) + size),
      EDGE.noise,
    );
    expect(kind).toBe('flat');
    expect(Math.abs(angle - 0.35)).toBeLessThan(0.05);
    expect(Math.abs(width / (2 * Math.sqrt(2 * EDGE.radius * CHANGE - CHANGE ** 2)) - 1)).toBeLessThan(0.1);
    expect(Math.abs(amplitude / CHANGE - 1)).toBeLessThan(0.2);
    expect(confidence).toBeGreaterThan(0.99);
  }
});

test('changes of size below 4 µm leave an edge as nominal', () => {
  for (let seed = 1; seed <= 10; seed++)
    expect(
      edgeClass(
        noisyEdge(seed, () => 0.0025),
        EDGE.noise,
      ).kind,
    ).toBe('as nominal');
});

test('against an ellipse a blunt edge is none, a flat still is', () => {
  const options = { ...EDGE_CLASS_DEFAULTS, reference: 'ellipse' as const };
  expect(edgeClass(noisyEdge(3, fuller(-CHANGE)), EDGE.noise, options).kind).toBe('as nominal');
  expect(edgeClass(noisyEdge(3, flatOf(0, 0.03)), EDGE.noise, options).kind).toBe('flat');
});
