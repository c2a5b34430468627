import { describe, expect, test } from 'vitest';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import { EDGE_CLASS_DEFAULTS, type EdgeDepartures, type EdgeKind, edgeClass } from '../../src/measure/edge-class.ts';

const R = 0.25;
const POINTS = 400;
const NOISE = 0.005;
const CHANGE = 0.02;
const SEEDS = Number(process.env.EDGE_CLASS_SEEDS ?? 40);

/** Departures of 400 points over ±80° of a circular edge moved a little, with a form by normal angle (mm). */
function edge(seed: number, form: (angle: number) => number): EdgeDepartures {
  const uniform = seededRandom(seed);
  const normal = normalFrom(seededRandom(seed + 5000));
  const angle = Float64Array.from({ length: POINTS }, () => ((uniform() - 0.5) * 160 * Math.PI) / 180).sort();
  const [dx, dy] = [0.03 * normal(), 0.03 * normal()];
  const nx = angle.map(Math.cos);
  const ny = angle.map(Math.sin);
  return {
    angle,
    nx,
    ny,
    x: nx.map((c) => R * c),
    y: ny.map((s) => R * s),
    departure: angle.map((a, i) => form(a) + dx * nx[i] + dy * ny[i] + NOISE * normal()),
  };
}

/** The cut of a chord across a circle, sagitta `depth`, its middle at `centre`. */
const flat = (centre: number, depth: number) => (a: number) =>
  Math.cos(a - centre) > 0 ? Math.min(0, (R - depth) / Math.cos(a - centre) - R) : 0;

const forms: [EdgeKind, string, (a: number) => number][] = [
  ['as nominal', 'unchanged', () => 0],
  ['blunt', 'cos²', (a) => -CHANGE * Math.cos(a) ** 2],
  ['blunt', 'a bell of 30°', (a) => -CHANGE * Math.exp(-0.5 * (a / 0.52) ** 2)],
  ['pointed', 'cos²', (a) => CHANGE * Math.cos(a) ** 2],
  ['pointed', 'a bell of 30°', (a) => CHANGE * Math.exp(-0.5 * (a / 0.52) ** 2)],
  ['flat', 'across the nose', flat(0, CHANGE)],
  ['flat', '20° off the nose', flat(0.35, CHANGE)],
  ['asymmetric', 'second harmonic', (a) => CHANGE * Math.sin(2 * a)],
  ['asymmetric', 'one shoulder lower', (a) => -CHANGE * Math.exp(-0.5 * ((a - 0.8) / 0.35) ** 2)],
];

describe(`${SEEDS} edges each of R 0.25, 400 points, 5 µm noise, 20 µm change of form`, () => {
  test.each(forms)('%s: %s', (kind, _name, form) => {
    const wrong: string[] = [];
    for (let seed = 1; seed <= SEEDS; seed++) {
      const found = edgeClass(edge(seed, form), NOISE);
      if (found.kind !== kind) wrong.push(`${seed}: ${found.kind}`);
    }
    expect(wrong.length, wrong.join(', ')).toBeLessThanOrEqual(SEEDS / 100);
  });
});

test('the amplitude is the largest departure, and its uncertainty its scatter', () => {
  let sum = 0;
  let chi = 0;
  for (let seed = 1; seed <= 40; seed++) {
    const { amplitude, u } = edgeClass(edge(seed, forms[1][2]), NOISE);
    sum += amplitude;
    chi += ((amplitude + CHANGE) / u) ** 2;
  }
  expect(Math.abs(sum / 40 / -CHANGE - 1)).toBeLessThan(0.05);
  expect(chi / 40).toBeGreaterThan(0.4);
  expect(chi / 40).toBeLessThan(2);
});

test('a flat has its place, width and sagitta', () => {
  const { angle, width, amplitude, confidence } = edgeClass(edge(7, flat(0.35, CHANGE)), NOISE);
  expect(Math.abs(angle - 0.35)).toBeLessThan(0.05);
  expect(Math.abs(width / (2 * Math.sqrt(2 * R * CHANGE - CHANGE ** 2)) - 1)).toBeLessThan(0.1);
  expect(Math.abs(amplitude / CHANGE - 1)).toBeLessThan(0.2);
  expect(confidence).toBeGreaterThan(0.99);
});

test('against an ellipse a blunt edge is none, a flat still is', () => {
  const options = { ...EDGE_CLASS_DEFAULTS, reference: 'ellipse' as const };
  expect(edgeClass(edge(3, forms[1][2]), NOISE, options).kind).toBe('as nominal');
  expect(edgeClass(edge(3, flat(0, 0.03)), NOISE, options).kind).toBe('flat');
});
