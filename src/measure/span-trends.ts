import type { Trends } from '../model/results.ts';
import { measured, unmeasured, type Value } from '../model/value.ts';

/** Displacement and twist of one section against its nominal. */
export interface Station {
  /** Height (mm). */
  height: number;
  /** Displacement of the section at its pivot (mm) and its twist (degrees); null when not measured. */
  dx: number | null;
  dy: number | null;
  twistDeg: number | null;
  /** Standard uncertainties; null when unknown. */
  uDx?: number | null;
  uDy?: number | null;
  uTwistDeg?: number | null;
}

/** BOW-END: from the line through the end sections. BOW-LSQ: from the least-squares line. */
export type BowReference = 'BOW-END' | 'BOW-LSQ';

interface Line {
  offset: number;
  slope: number;
  /** Standard uncertainty of the slope, null when a station has none. */
  u: number | null;
}

/**
 * Returns bow (largest size of the displacement's departure from a straight line along the span), lean (slope of dy),
 * sweep (slope of dx) and untwist (change of twist from the lowest to the highest section by the regression line), with
 * equal weight a station.
 * @param stations at least two for slopes, three for bow, in any order
 */
export function spanTrends(stations: readonly Station[], bowReference: BowReference = 'BOW-END'): Trends {
  const placed = [...stations].sort((a, b) => a.height - b.height);
  const shifts = placed.filter((s) => s.dx !== null && s.dy !== null);
  const twists = placed.filter((s) => s.twistDeg !== null);
  const z = shifts.map((s) => s.height);
  const lineX = slopeLine(
    z,
    shifts.map((s) => s.dx as number),
    shifts.map((s) => s.uDx ?? null),
  );
  const lineY = slopeLine(
    z,
    shifts.map((s) => s.dy as number),
    shifts.map((s) => s.uDy ?? null),
  );
  const lineT = slopeLine(
    twists.map((s) => s.height),
    twists.map((s) => s.twistDeg as number),
    twists.map((s) => s.uTwistDeg ?? null),
  );
  const span = twists.length > 1 ? twists[twists.length - 1].height - twists[0].height : 0;
  const untwist = lineT
    ? measured(lineT.slope * span, lineT.u === null ? null : lineT.u * span, 'deg', 'UNTWIST-LSQ', {
        parameters: { span, slopePerMm: lineT.slope },
        evidence: { meanDeg: lineT.offset + lineT.slope * mean(twists.map((s) => s.height)) },
      })
    : tooFew('deg', 'UNTWIST-LSQ', 2);
  return {
    bow: bow(shifts, bowReference, lineX, lineY),
    bowReference,
    leanDeg: slopeValue(lineY, 'LEAN-LSQ', 'y'),
    sweepDeg: slopeValue(lineX, 'SWEEP-LSQ', 'x'),
    untwistDeg: untwist,
  };
}

/** Departures (x, y) of each station from the reference line of the bow; null for fewer than three stations. */
export function bowDepartures(stations: readonly Station[], reference: BowReference): [number, number][] | null {
  const shifts = stations.filter((s) => s.dx !== null && s.dy !== null).sort((a, b) => a.height - b.height);
  if (shifts.length < 3) return null;
  const z = shifts.map((s) => s.height);
  const values = [shifts.map((s) => s.dx as number), shifts.map((s) => s.dy as number)];
  const lines = values.map((v) => (reference === 'BOW-LSQ' ? slopeLine(z, v, []) : endLine(z, v)));
  return shifts.map((s, i) => {
    const [x, y] = lines.map((line, k) => values[k][i] - (line as Line).offset - (line as Line).slope * s.height);
    return [x, y];
  });
}

function bow(shifts: Station[], reference: BowReference, lineX: Line | null, lineY: Line | null): Value {
  const departures = bowDepartures(shifts, reference);
  if (!departures || !lineX || !lineY) return tooFew('mm', reference, 3);
  let best = 0;
  departures.forEach(([x, y], i) => {
    if (Math.hypot(x, y) > Math.hypot(...departures[best])) best = i;
  });
  const [x, y] = departures[best];
  const size = Math.hypot(x, y);
  const s = shifts[best];
  const cx = size > 0 ? x / size : 1;
  const cy = size > 0 ? y / size : 0;
  const own = (i: number) => Math.hypot(cx * (shifts[i].uDx ?? Number.NaN), cy * (shifts[i].uDy ?? Number.NaN));
  const last = shifts.length - 1;
  const part = (s.height - shifts[0].height) / (shifts[last].height - shifts[0].height);
  const ends = reference === 'BOW-END' && best > 0 && best < last;
  const u = ends ? Math.hypot(own(best), (1 - part) * own(0), part * own(last)) : own(best);
  return measured(size, Number.isFinite(u) ? u : null, 'mm', reference, {
    evidence: { height: s.height, x, y },
  });
}

function slopeValue(line: Line | null, definition: string, axis: string): Value {
  if (!line) return tooFew('deg', definition, 2);
  const factor = 180 / Math.PI / (1 + line.slope * line.slope);
  return measured(
    (Math.atan(line.slope) * 180) / Math.PI,
    line.u === null ? null : line.u * factor,
    'deg',
    definition,
    {
      parameters: { axis, slope: line.slope },
    },
  );
}

function tooFew(unit: string, definition: string, least: number): Value {
  return unmeasured('not-measured', `Needs at least ${least} measured sections.`, unit, definition);
}

function slopeLine(z: number[], value: number[], u: (number | null)[]): Line | null {
  const mz = mean(z);
  let zz = 0;
  let zv = 0;
  let variance = 0;
  let known = u.length === z.length;
  z.forEach((height, i) => {
    const d = height - mz;
    zz += d * d;
    zv += d * value[i];
    const own = u[i];
    if (own === null || own === undefined) known = false;
    else variance += d * d * own * own;
  });
  if (z.length < 2 || !(zz > 0)) return null;
  const slope = zv / zz;
  return { slope, offset: mean(value) - slope * mz, u: known ? Math.sqrt(variance) / zz : null };
}

function endLine(z: number[], value: number[]): Line {
  const last = z.length - 1;
  const slope = (value[last] - value[0]) / (z[last] - z[0]);
  return { slope, offset: value[0] - slope * z[0], u: null };
}

function mean(values: number[]): number {
  return values.reduce((sum, v) => sum + v, 0) / values.length;
}
