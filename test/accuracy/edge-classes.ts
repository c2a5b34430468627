import { normalFrom, seededRandom } from '../../src/math/random.ts';
import { type EdgeDepartures, type EdgeKind, edgeClass } from '../../src/measure/edge-class.ts';

/** Edges of known class: a circle with random noisy points, moved a little, its size or form changed. */

export const EDGE = { radius: 0.25, points: 400, noise: 0.005 };
const CHANGE = 0.02;
const REACH = (88 * Math.PI) / 180;

/** Departures of the points of a circular edge, with a change by normal angle (mm). */
export function noisyEdge(seed: number, change: (angle: number) => number): EdgeDepartures {
  const uniform = seededRandom(seed);
  const normal = normalFrom(seededRandom(seed + 5000));
  const angle = Float64Array.from({ length: EDGE.points }, () => (2 * uniform() - 1) * REACH).sort();
  const [dx, dy] = [0.03 * normal(), 0.03 * normal()];
  const nx = angle.map(Math.cos);
  const ny = angle.map(Math.sin);
  return {
    angle,
    nx,
    ny,
    x: nx.map((c) => EDGE.radius * c),
    y: ny.map((s) => EDGE.radius * s),
    departure: angle.map((a, i) => change(a) + dx * nx[i] + dy * ny[i] + EDGE.noise * normal()),
  };
}

/** The cut of a chord across the edge, sagitta `depth`, its middle at `centre`. */
export const flatOf = (centre: number, depth: number) => (a: number) =>
  Math.cos(a - centre) > 0 ? Math.min(0, (EDGE.radius - depth) / Math.cos(a - centre) - EDGE.radius) : 0;

export const fuller = (amount: number) => (a: number) => amount * Math.cos(a) ** 2;

/** Changes of size and form by class. */
export const EDGE_CHANGES: readonly { kind: EdgeKind; name: string; at: (angle: number) => number }[] = [
  { kind: 'as nominal', name: 'unchanged', at: () => 0 },
  { kind: 'larger', name: 'by 8 um', at: () => 0.008 },
  { kind: 'larger', name: 'by 20 um', at: () => CHANGE },
  { kind: 'smaller', name: 'by 8 um', at: () => -0.008 },
  { kind: 'smaller', name: 'by 20 um', at: () => -CHANGE },
  { kind: 'blunt', name: 'cos squared', at: fuller(-CHANGE) },
  { kind: 'blunt', name: 'a bell of 30 deg', at: (a) => -CHANGE * Math.exp(-0.5 * (a / 0.52) ** 2) },
  { kind: 'pointed', name: 'cos squared', at: fuller(CHANGE) },
  { kind: 'pointed', name: 'a bell of 30 deg', at: (a) => CHANGE * Math.exp(-0.5 * (a / 0.52) ** 2) },
  { kind: 'flat', name: 'across the nose', at: flatOf(0, CHANGE) },
  { kind: 'flat', name: '20 deg off the nose', at: flatOf(0.35, CHANGE) },
  { kind: 'asymmetric', name: 'second harmonic', at: (a) => CHANGE * Math.sin(2 * a) },
  { kind: 'asymmetric', name: 'one shoulder lower', at: (a) => -CHANGE * Math.exp(-0.5 * ((a - 0.8) / 0.35) ** 2) },
];

/**
 * Returns how many of `count` edges (seeds from `from` on) of each change were given another class, by "class: change".
 */
export function edgeClassStatistics(from: number, count: number): Map<string, { wrong: number; count: number }> {
  return new Map(
    EDGE_CHANGES.map(({ kind, name, at }) => {
      let wrong = 0;
      for (let seed = from; seed < from + count; seed++)
        if (edgeClass(noisyEdge(seed, at), EDGE.noise).kind !== kind) wrong++;
      return [`${kind}: ${name}`, { wrong, count }];
    }),
  );
}
