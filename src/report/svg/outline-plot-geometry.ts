import { cellBorders, type LimitsAt } from '../../judge/map-places.ts';
import type { SectionResult } from '../../model/results.ts';
import type { Limits, Step } from '../colours.ts';
import { axisTicks, linearScale, padDomain, type Scale, type Tick } from './axis.ts';
import { bandPath, linePath, px } from './path.ts';
import { stepRuns } from './plot-samples.ts';

export interface OutlinePlotOptions {
  limitsAt: LimitsAt;
  width: number;
  height: number;
  margin?: { left: number; top: number; right: number; bottom: number };
  /** Positions at the left and right border (mm); absent: the section's own trailing edges. Give the map's to share its axis. */
  alongDomain?: readonly [number, number];
}

export interface OutlinePlotGeometry {
  width: number;
  height: number;
  plot: { x: number; y: number; width: number; height: number };
  /** Measured deviation, gaps open. */
  line: string;
  /** ±2u about the line. */
  uncertainty: string;
  /** Area between zero and the line, one path a step. */
  fills: { step: Step; path: string }[];
  lowerLimit: string;
  upperLimit: string;
  zero: number;
  leadingEdge: number;
  /** Stretches along the outline without data, as [from, to] in the picture (px). */
  gaps: [number, number][];
  alongTicks: Tick[];
  valueTicks: Tick[];
  x: Scale;
  y: Scale;
  /** Index of the nearest position with data; −1 when there is none. */
  nearest(x: number): number;
}

const MARGIN = { left: 58, top: 14, right: 14, bottom: 40 };

/** Deviation along the outline of a section: trailing edge at both ends, leading edge between, suction side left. */
export function outlinePlotGeometry(section: SectionResult, options: OutlinePlotOptions): OutlinePlotGeometry | null {
  const data = section.plot;
  if (!data || data.along.length < 2) return null;
  const margin = options.margin ?? MARGIN;
  const borders = cellBorders(data.along);
  const ends: [number, number] = [borders[0], borders[borders.length - 1]];
  const domain = options.alongDomain ?? ends;
  const plot = {
    x: margin.left,
    y: margin.top,
    width: options.width - margin.left - margin.right,
    height: options.height - margin.top - margin.bottom,
  };
  const limits: Limits[] = data.along.map((at) => options.limitsAt(section.height, at, ends[0], ends[1]));
  const shown = [
    0,
    ...data.deviation.flatMap((d, i) => (d === null ? [] : [d - 2 * (data.u[i] ?? 0), d + 2 * (data.u[i] ?? 0)])),
    ...limits.flatMap((l) => [l.lower ?? 0, l.upper ?? 0]),
  ];
  const valueDomain = padDomain(Math.min(...shown), Math.max(...shown));
  const x = linearScale([domain[0], domain[1]], [plot.x, plot.x + plot.width]);
  const y = linearScale(valueDomain, [plot.y + plot.height, plot.y]);
  const xs = data.along.map(x);
  const value = (v: number | null) => (v === null ? null : y(v));
  const fills = new Map<Step, string>();
  for (const run of stepRuns(data.deviation, limits)) {
    const slice = (list: readonly (number | null)[]) => list.slice(run.from, run.to + 1);
    const part = bandPath(
      xs.slice(run.from, run.to + 1),
      slice(data.deviation).map(value),
      slice(data.deviation).map(() => y(0)),
    );
    fills.set(run.step, (fills.get(run.step) ?? '') + part);
  }
  const wide = (sign: number) =>
    data.deviation.map((d, i) => (d === null || data.u[i] === null ? null : y(d + sign * 2 * data.u[i]!)));
  return {
    width: options.width,
    height: options.height,
    plot,
    line: linePath(xs, data.deviation.map(value)),
    uncertainty: bandPath(xs, wide(-1), wide(1)),
    fills: [...fills].sort((a, b) => a[0] - b[0]).map(([step, path]) => ({ step, path })),
    lowerLimit: limitPath(
      borders.map(x),
      limits.map((l) => value(l.lower)),
    ),
    upperLimit: limitPath(
      borders.map(x),
      limits.map((l) => value(l.upper)),
    ),
    zero: y(0),
    leadingEdge: x(0),
    gaps: gapsOf(data.deviation, borders.map(x)),
    alongTicks: axisTicks(domain, x, Math.max(2, plot.width / 80)),
    valueTicks: axisTicks(valueDomain, y, Math.max(2, plot.height / 36)),
    x,
    y,
    nearest(at) {
      let best = -1;
      for (let i = 0; i < xs.length; i++)
        if (data.deviation[i] !== null && (best < 0 || Math.abs(xs[i] - at) < Math.abs(xs[best] - at))) best = i;
      return best;
    },
  };
}

/** Limits as a staircase: level within a cell, upright between cells; cells without a limit are left open. */
function limitPath(borders: readonly number[], level: readonly (number | null)[]): string {
  let path = '';
  level.forEach((y, i) => {
    if (y === null) return;
    const joined = i > 0 && level[i - 1] !== null;
    path += joined ? (level[i - 1] === y ? '' : `L${px(borders[i])} ${px(y)}`) : `M${px(borders[i])} ${px(y)}`;
    const next = level[i + 1];
    if (next !== y) path += `L${px(borders[i + 1])} ${px(y)}`;
  });
  return path;
}

function gapsOf(deviation: readonly (number | null)[], borders: readonly number[]): [number, number][] {
  const gaps: [number, number][] = [];
  deviation.forEach((d, i) => {
    if (d !== null) return;
    const last = gaps[gaps.length - 1];
    if (last && last[1] === borders[i]) last[1] = borders[i + 1];
    else gaps.push([borders[i], borders[i + 1]]);
  });
  return gaps;
}
