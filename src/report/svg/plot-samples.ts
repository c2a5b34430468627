import type { LimitsAt } from '../../judge/map-places.ts';
import type { Polyline, SectionResult } from '../../model/results.ts';
import { type Limits, type Step, stepOf } from '../colours.ts';

/** A drawn outline with everything along it: place, outward normal, deviation, limits. */
export interface OutlineSamples {
  x: number[];
  y: number[];
  along: number[];
  normalX: number[];
  normalY: number[];
  /** Curvature (1/mm), positive where convex. */
  curvature: number[];
  deviation: (number | null)[];
  limits: Limits[];
  suctionEnd: number;
  pressureEnd: number;
}

/** Value at a position between listed ones by straight lines; null beside a missing neighbour or outside the list. */
export function valueAlong(along: readonly number[], value: readonly (number | null)[], at: number): number | null {
  const last = along.length - 1;
  if (last < 0 || at < along[0] || at > along[last]) return null;
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (along[middle] <= at) low = middle;
    else high = middle;
  }
  const [a, b] = [value[low], value[high]];
  if (at === along[low]) return a;
  if (at === along[high]) return b;
  return a === null || b === null ? null : a + ((b - a) * (at - along[low])) / (along[high] - along[low]);
}

/**
 * Outward unit normals (ty, −tx) of a closed counter-clockwise polyline, from the neighbours of each point.
 */
export function outwardNormals(line: Pick<Polyline, 'x' | 'y'>): { x: number[]; y: number[] } {
  const n = line.x.length;
  const x = new Array<number>(n);
  const y = new Array<number>(n);
  for (let i = 0; i < n; i++) {
    let [before, after] = [i, i];
    do before = (before + n - 1) % n;
    while (before !== i && line.x[before] === line.x[i] && line.y[before] === line.y[i]);
    do after = (after + 1) % n;
    while (after !== i && line.x[after] === line.x[i] && line.y[after] === line.y[i]);
    const [tx, ty] = [line.x[after] - line.x[before], line.y[after] - line.y[before]];
    const length = Math.hypot(tx, ty) || 1;
    x[i] = ty / length;
    y[i] = -tx / length;
  }
  return { x, y };
}

/** Turning of the normal over the way between the neighbours of each point. */
function curvatureOf(line: Pick<Polyline, 'x' | 'y'>, normal: { x: number[]; y: number[] }): number[] {
  const n = line.x.length;
  return line.x.map((_, i) => {
    const [a, b] = [(i + n - 1) % n, (i + 1) % n];
    const turn = Math.atan2(
      normal.x[a] * normal.y[b] - normal.y[a] * normal.x[b],
      normal.x[a] * normal.x[b] + normal.y[a] * normal.y[b],
    );
    const way =
      Math.hypot(line.x[i] - line.x[a], line.y[i] - line.y[a]) +
      Math.hypot(line.x[b] - line.x[i], line.y[b] - line.y[i]);
    return way > 0 ? turn / way : 0;
  });
}

/** The list grown by its neighbours over the trailing edge, so that the outline is closed there. `turn`: perimeter (mm). */
function overTrailingEdge(plot: { along: number[]; deviation: (number | null)[] }, turn: number) {
  const last = plot.along.length - 1;
  if (last < 0) return plot;
  return {
    along: [plot.along[last] - turn, ...plot.along, plot.along[0] + turn],
    deviation: [plot.deviation[last], ...plot.deviation, plot.deviation[0]],
  };
}

/** Everything along the nominal outline of a section; null when the section has no nominal outline to draw. */
export function outlineSamples(section: SectionResult, limitsAt: LimitsAt): OutlineSamples | null {
  const line = section.plot?.nominal;
  if (!section.plot || !line || line.x.length < 3) return null;
  const normal = outwardNormals(line);
  const suctionEnd = Math.min(...line.along);
  const pressureEnd = Math.max(...line.along);
  const turn = pressureEnd - suctionEnd;
  const { along, deviation } = overTrailingEdge(section.plot, turn);
  return {
    x: line.x,
    y: line.y,
    along: line.along,
    normalX: normal.x,
    normalY: normal.y,
    curvature: curvatureOf(line, normal),
    deviation: line.along.map((at) => valueAlong(along, deviation, at)),
    limits: line.along.map((at) => limitsAt(section.height, at, suctionEnd, pressureEnd)),
    suctionEnd,
    pressureEnd,
  };
}

/** Runs of neighbouring samples of one step, each sharing its last sample with the next run; gaps have no run. */
export function stepRuns(
  deviation: readonly (number | null)[],
  limits: readonly Limits[],
): { step: Step; from: number; to: number }[] {
  const runs: { step: Step; from: number; to: number }[] = [];
  for (let i = 0; i + 1 < deviation.length; i++) {
    const [a, b] = [deviation[i], deviation[i + 1]];
    if (a === null || b === null) continue;
    const worse = Math.abs(a) >= Math.abs(b) ? i : i + 1;
    const step = stepOf(deviation[worse]!, limits[worse].lower, limits[worse].upper);
    const last = runs[runs.length - 1];
    if (last && last.to === i && last.step === step) last.to = i + 1;
    else runs.push({ step, from: i, to: i + 1 });
  }
  return runs;
}

/** Largest amount (mm) that has to be shown: deviations and limits. */
export function largestAmount(deviation: readonly (number | null)[], limits: readonly Limits[]): number {
  let most = 0;
  for (const d of deviation) if (d !== null) most = Math.max(most, Math.abs(d));
  for (const { lower, upper } of limits) most = Math.max(most, Math.abs(lower ?? 0), Math.abs(upper ?? 0));
  return most;
}
