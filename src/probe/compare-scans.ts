import { type Warning, warning } from '../error.ts';
import { evaluateOutline, wrapParameter } from '../fit/outline-evaluate.ts';
import type { ScanDifference } from '../model/results.ts';
import { measured, unmeasured, type Value } from '../model/value.ts';
import { type TurnReach, turnReach } from './path-turn.ts';
import type { SectionPath } from './section-path.ts';

/** Half angle of normal direction of an edge (rad): less than the flanks have, so that they stay out. */
const EDGE_ANGLE = (75 * Math.PI) / 180;
const LEAST_POINTS = 8;
/** Differences beyond this many standard uncertainties are reported. */
const SIGNIFICANT = 3;
const MOST_CORRELATION = 0.95;

type Zone = ScanDifference['zone'];

const PLACES: Record<Zone, string> = {
  'leading-edge': 'At the leading edge',
  'trailing-edge': 'At the trailing edge',
  suction: 'On the suction side',
  pressure: 'On the pressure side',
};

/**
 * Returns how each further pass over a section differs from the first, by zone: the mean distance along the outward
 * normal, and at the edges the lag, a shift of the edge along the outline as a probe shows it that answers late or
 * bends with the way of travel. An edge shifted by δ along its tangent T lies δ T·n off; both come from a straight line
 * through the distances over T·n. Uncertainties are those of the lines, with fewer independent points where neighbours
 * are correlated: N (1 − r) / (1 + r).
 * @param path the smooth path through all passes together
 */
export function compareScans(path: SectionPath): ScanDifference[] {
  const passes = Math.max(...path.pass);
  const zones = zonesOf(path);
  const result: ScanDifference[] = [];
  for (let pass = 1; pass <= passes; pass++) {
    for (const { zone, tangent, holds } of zones) {
      const lineIn = (which: number): Line | null => {
        const pick = Array.from(path.pass.keys()).filter((i) => path.pass[i] === which && holds(path.parameter[i]));
        return lineOf(path, pick, tangent);
      };
      const [first, further] = [lineIn(0), lineIn(pass)];
      result.push({ section: path.id, pass: pass + 1, zone, ...differenceOf(first, further, tangent !== null) });
    }
  }
  return result;
}

/** Returns one warning for each kind of significant difference, with the most significant one. */
export function scanWarnings(scans: readonly ScanDifference[], name: string): Warning[] {
  const warnings: Warning[] = [];
  for (const [key, what, remedy] of [
    ['difference', 'lies {} mm from the first along the normal', 'Check the probe and the scanning speed.'],
    ['lag', 'is shifted by {} mm along the edge', 'Scan the edges more slowly, or qualify the probe for the speed.'],
  ] as const) {
    const known = scans.filter(({ [key]: { value } }) => value !== null);
    const found = known.filter(({ [key]: { value, u } }) => value !== null && u !== null && isBeyond(value, u));
    if (found.length === 0) continue;
    const size = ({ [key]: { value, u } }: ScanDifference): number => Math.abs(value ?? 0) / (u ?? 1);
    const most = found.reduce((best, scan) => (size(scan) > size(best) ? scan : best));
    const { value, u } = most[key];
    const amount = `${signed(value ?? 0)} ± ${(u ?? 0).toFixed(4)}`;
    const message = `${PLACES[most.zone]}, pass ${most.pass} ${what.replace('{}', amount)} (1 sigma); ${found.length} of ${known.length} zones differ by more than ${SIGNIFICANT} u.`;
    warnings.push(
      warning(`probe/scans-${key === 'lag' ? 'lag' : 'differ'}`, message, `${name}, section ${most.section}`, remedy),
    );
  }
  return warnings;
}

function isBeyond(value: number, u: number): boolean {
  return Math.abs(value) > SIGNIFICANT * u;
}

function signed(value: number): string {
  return `${value < 0 ? '−' : '+'}${Math.abs(value).toFixed(4)}`;
}

interface ZoneOfPath {
  zone: Zone;
  /** Unit tangent at the nose; null for a flank. */
  tangent: [number, number] | null;
  holds: (t: number) => boolean;
}

function zonesOf(path: SectionPath): ZoneOfPath[] {
  const { outline, edges } = path;
  const out = new Float64Array(8);
  const edge = (zone: Zone, at: number): ZoneOfPath & { reach: TurnReach } => {
    const reach = turnReach(outline, at, EDGE_ANGLE);
    evaluateOutline(outline, at, out);
    const speed = Math.hypot(out[2], out[3]);
    const holds = (t: number): boolean => between(outline, t, reach.from, reach.to);
    return { zone, tangent: [out[2] / speed, out[3] / speed], holds, reach };
  };
  const leading = edge('leading-edge', edges.leading);
  const trailing = edge('trailing-edge', edges.trailing);
  const flank = (zone: Zone, from: number, to: number): ZoneOfPath => ({
    zone,
    tangent: null,
    holds: (t) => between(outline, t, from, to),
  });
  const other = edges.firstSide === 'suction' ? 'pressure' : 'suction';
  return [
    leading,
    trailing,
    flank(edges.firstSide, leading.reach.to, trailing.reach.from),
    flank(other, trailing.reach.to, leading.reach.from),
  ];
}

/** True when `t` lies on the way from `from` to `to` along rising parameter. */
function between(outline: SectionPath['outline'], t: number, from: number, to: number): boolean {
  const start = outline.knots[0];
  const ahead = (value: number): number => wrapParameter(outline, value - from + start) - start;
  return ahead(t) < ahead(to);
}

/** The straight line d = mean + slope · g through a pass's distances; the slope is 0 where there is no tangent. */
interface Line {
  mean: number;
  slope: number;
  uMean: number;
  uSlope: number;
}

function lineOf(path: SectionPath, pick: readonly number[], tangent: [number, number] | null): Line | null {
  const count = pick.length;
  if (count < LEAST_POINTS) return null;
  const g = pick.map((i) =>
    tangent === null ? 0 : tangent[0] * path.normal[2 * i] + tangent[1] * path.normal[2 * i + 1],
  );
  const d = pick.map((i) => path.distance[i]);
  const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
  const [middle, mean] = [sum(g) / count, sum(d) / count];
  const spread = sum(g.map((value) => (value - middle) ** 2));
  const slope = spread > 0 ? sum(g.map((value, k) => (value - middle) * d[k])) / spread : 0;
  const rest = d.map((value, k) => value - mean - slope * (g[k] - middle));
  const squares = sum(rest.map((value) => value * value));
  const neighbours = sum(rest.slice(1).map((value, k) => value * rest[k]));
  const r = squares > 0 ? Math.min(Math.max(neighbours / squares, 0), MOST_CORRELATION) : 0;
  const variance = ((squares / (count - (spread > 0 ? 2 : 1))) * (1 + r)) / (1 - r);
  const uSlope = spread > 0 ? Math.sqrt(variance / spread) : 0;
  return {
    mean: mean - slope * middle,
    slope,
    uMean: Math.hypot(Math.sqrt(variance / count), uSlope * middle),
    uSlope,
  };
}

function differenceOf(first: Line | null, further: Line | null, isEdge: boolean): { difference: Value; lag: Value } {
  const [D, L] = ['SCAN-DIFFERENCE', 'SCAN-LAG'];
  if (first === null || further === null) {
    const reason = `A pass has fewer than ${LEAST_POINTS} points here.`;
    return {
      difference: unmeasured('not-measured', reason, 'mm', D),
      lag: unmeasured('not-measured', reason, 'mm', L),
    };
  }
  return {
    difference: measured(further.mean - first.mean, Math.hypot(first.uMean, further.uMean), 'mm', D),
    lag: isEdge
      ? measured(further.slope - first.slope, Math.hypot(first.uSlope, further.uSlope), 'mm', L)
      : unmeasured('not-applicable', 'A shift along a flank does not show in its points.', 'mm', L),
  };
}
