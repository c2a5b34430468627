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
  /** Displacement along the chord, positive towards the trailing edge, and normal to it, towards the suction side (mm). */
  along?: number | null;
  across?: number | null;
  uAlong?: number | null;
  uAcross?: number | null;
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
 * Returns bow (largest size of the displacement's departure from a straight line along the span, from either line), lean
 * (slope of dy), sweep (slope of dx), the same normal to and along the chord (Smith and Yeh 1963) and untwist (change of
 * twist from the lowest to the highest section by the regression line), with equal weight a station.
 * @param stations at least two for slopes, three for bow, in any order
 */
export function spanTrends(stations: readonly Station[], bowReference: BowReference = 'BOW-END'): Trends {
  const placed = [...stations].sort((a, b) => a.height - b.height);
  const shifts = placed.filter((s) => s.dx !== null && s.dy !== null);
  const twists = placed.filter((s) => s.twistDeg !== null);
  const lineT = lineOf(twists, 'twistDeg', 'uTwistDeg');
  const span = twists.length > 1 ? twists[twists.length - 1].height - twists[0].height : 0;
  const untwist = lineT
    ? measured(lineT.slope * span, lineT.u === null ? null : lineT.u * span, 'deg', 'UNTWIST-LSQ', {
        parameters: { span, slopePerMm: lineT.slope },
        evidence: { meanDeg: lineT.offset + lineT.slope * mean(twists.map((s) => s.height)) },
      })
    : tooFew('deg', 'UNTWIST-LSQ', 2);
  const bows = { 'BOW-END': bow(shifts, 'BOW-END'), 'BOW-LSQ': bow(shifts, 'BOW-LSQ') };
  return {
    bow: bows[bowReference],
    bowReference,
    bowEnd: bows['BOW-END'],
    bowLsq: bows['BOW-LSQ'],
    leanDeg: slopeValue(lineOf(shifts, 'dy', 'uDy'), 'LEAN-LSQ', 'y'),
    sweepDeg: slopeValue(lineOf(shifts, 'dx', 'uDx'), 'SWEEP-LSQ', 'x'),
    dihedralChordDeg: slopeValue(lineOf(placed, 'across', 'uAcross'), 'DIHEDRAL-CHORD', 'normal to the chord'),
    sweepChordDeg: slopeValue(lineOf(placed, 'along', 'uAlong'), 'SWEEP-CHORD', 'along the chord'),
    untwistDeg: untwist,
  };
}

/** Least-squares line of a component over height, of the stations that have it. */
function lineOf(
  stations: readonly Station[],
  key: 'dx' | 'dy' | 'twistDeg' | 'along' | 'across',
  uKey: 'uDx' | 'uDy' | 'uTwistDeg' | 'uAlong' | 'uAcross',
): Line | null {
  const held = stations.filter((s) => typeof s[key] === 'number');
  return slopeLine(
    held.map((s) => s.height),
    held.map((s) => s[key] as number),
    held.map((s) => s[uKey] ?? null),
  );
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

function bow(shifts: Station[], reference: BowReference): Value {
  const departures = bowDepartures(shifts, reference);
  if (!departures) return tooFew('mm', reference, 3);
  let best = 0;
  departures.forEach(([x, y], i) => {
    if (Math.hypot(x, y) > Math.hypot(...departures[best])) best = i;
  });
  const [x, y] = departures[best];
  const size = Math.hypot(x, y);
  const s = shifts[best];
  const cx = size > 0 ? x / size : 1;
  const cy = size > 0 ? y / size : 0;
  // Effect of every station on the departure that is the bow: the station itself, less its share of the line.
  const shares = lineShares(shifts, reference, s.height);
  const parts = shifts.map(({ uDx, uDy }, i) => {
    const share = (i === best ? 1 : 0) - shares[i];
    return share === 0 ? 0 : share * Math.hypot(cx * (uDx ?? Number.NaN), cy * (uDy ?? Number.NaN));
  });
  const u = Math.hypot(...parts);
  return measured(size, Number.isFinite(u) ? u : null, 'mm', reference, {
    evidence: { height: s.height, x, y },
  });
}

/** Weight of each station in the height of the reference line at a place. */
function lineShares(shifts: readonly Station[], reference: BowReference, height: number): number[] {
  const z = shifts.map((s) => s.height);
  const last = z.length - 1;
  if (reference === 'BOW-END') {
    const part = (height - z[0]) / (z[last] - z[0]);
    return z.map((_, i) => (i === 0 ? 1 - part : i === last ? part : 0));
  }
  const middle = mean(z);
  const spread = z.reduce((sum, each) => sum + (each - middle) ** 2, 0);
  return z.map((each) => 1 / z.length + ((height - middle) * (each - middle)) / spread);
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
