import type { SectionResult } from '../../src/model/results.ts';
import { axisTicks, linearScale, padDomain, type Scale, type Tick } from '../../src/report/svg/axis.ts';
import { bandPath, linePath } from '../../src/report/svg/path.ts';
import type { Numbers } from './plot-numbers.ts';

type Values = readonly (number | null)[];

/** One narrow plot under the section: a line, its band and what it is held against. */
export interface Strip {
  id: 'curvature' | 'thickness' | 'waviness';
  title: string;
  /** What the horizontal axis says. */
  across: string;
  /** Over the position along the outline, so that it shares the selection; else over a fraction. */
  isAlong: boolean;
  /** Ends of the horizontal axis. */
  domain: [number, number];
  x: readonly number[];
  value: Values;
  /** Half width of the band (U, k = 2); null where unknown. */
  expanded: Values | null;
  nominal: { x: readonly number[]; value: Values } | null;
  /** Values are spread so that small and large ones are both seen. */
  spread: boolean;
  numbers: Numbers;
}

/** The strips a section has data for. */
export function stripsOf(section: SectionResult): Strip[] {
  const whole = outlineEnds(section);
  const strips = [curvatureStrip(section, whole), thicknessStrip(section), wavinessStrip(section, whole)];
  return strips.filter((strip) => strip !== null);
}

/** Positions of the trailing edge on either side. */
function outlineEnds({ plot }: SectionResult): [number, number] {
  const all = [...(plot?.curvature?.along ?? []), ...(plot?.along ?? [])];
  return [Math.min(0, ...all), Math.max(0, ...all)];
}

function curvatureStrip({ plot }: SectionResult, domain: [number, number]): Strip | null {
  const data = plot?.curvature;
  if (!data || data.along.length < 2) return null;
  const expanded = data.u.map((u) => (u === null ? null : 2 * u));
  return {
    id: 'curvature',
    title: 'Curvature along the outline, 1/mm',
    across: 'mm from the leading edge',
    isAlong: true,
    domain,
    x: data.along,
    value: data.value,
    expanded: expanded.some((u) => u !== null) ? expanded : null,
    nominal: null,
    spread: true,
    numbers: {
      heads: ['along, mm', 'curvature, 1/mm', 'U (k = 2), 1/mm'],
      decimals: [3, 5, 5],
      rows: data.along.map((at, i) => [at, data.value[i], expanded[i]]),
    },
  };
}

function thicknessStrip({ plot }: SectionResult): Strip | null {
  const data = plot?.thickness;
  if (!data || data.at.length < 2) return null;
  const per = (at: readonly number[]): number[] => at.map((one) => 100 * one);
  const { nominal } = data;
  return {
    id: 'thickness',
    title: 'Thickness over the line of centres, mm',
    across: '% of the line of centres, leading to trailing edge',
    isAlong: false,
    domain: [0, 100],
    x: per(data.at),
    value: data.value,
    expanded: null,
    nominal: nominal && { x: per(nominal.at), value: nominal.value },
    spread: false,
    numbers: {
      heads: ['line of centres, %', 'thickness, mm'],
      decimals: [2, 4],
      rows: data.at.map((at, i) => [100 * at, data.value[i]]),
    },
  };
}

function wavinessStrip({ plot }: SectionResult, domain: [number, number]): Strip | null {
  const data = plot?.waviness;
  if (!data) return null;
  const suction = data.suction.along.map((at, i): [number, number | null] => [at, data.suction.waves[i]]).reverse();
  const pressure = data.pressure.along.map((at, i): [number, number | null] => [at, data.pressure.waves[i]]);
  const rows = [...suction, [0, null] as [number, null], ...pressure];
  return {
    id: 'waviness',
    title: 'Waves of both flanks, mm',
    across: 'mm from the leading edge; edge zones left out',
    isAlong: true,
    domain,
    x: rows.map((r) => r[0]),
    value: rows.map((r) => r[1]),
    expanded: null,
    nominal: null,
    spread: false,
    numbers: { heads: ['along, mm', 'waves, mm'], decimals: [3, 5], rows: rows.filter((r) => r[0] !== 0) },
  };
}

export interface StripGeometry {
  width: number;
  height: number;
  plot: { x: number; y: number; width: number; height: number };
  line: string;
  nominal: string;
  band: string;
  zero: number | null;
  valueTicks: Tick[];
  acrossTicks: Tick[];
  x: Scale;
  y: (value: number) => number;
}

export interface StripRoom {
  width: number;
  height: number;
  margin: { left: number; top: number; right: number; bottom: number };
}

/** Lays a strip out in a room. */
export function stripGeometry(strip: Strip, { width, height, margin }: StripRoom): StripGeometry {
  const plot = {
    x: margin.left,
    y: margin.top,
    width: width - margin.left - margin.right,
    height: height - margin.top - margin.bottom,
  };
  const x = linearScale(strip.domain, [plot.x, plot.x + plot.width]);
  const axis = strip.spread ? spreadAxis(strip, plot) : linearAxis(strip, plot);
  const at = (value: number | null): number | null => (value === null ? null : axis.y(value));
  const held = (value: number): number => Math.min(plot.y + plot.height, Math.max(plot.y, axis.y(value)));
  const xs = strip.x.map(x);
  const edge = (sign: 1 | -1): (number | null)[] =>
    strip.value.map((v, i) => (v === null ? null : held(v + sign * (strip.expanded?.[i] ?? 0))));
  return {
    width,
    height,
    plot,
    line: linePath(xs, strip.value.map(at)),
    nominal: strip.nominal ? linePath(strip.nominal.x.map(x), strip.nominal.value.map(at)) : '',
    band: strip.expanded ? bandPath(xs, edge(-1), edge(1)) : '',
    zero: axis.zero,
    valueTicks: axis.ticks,
    acrossTicks: axisTicks(strip.domain, x, Math.max(2, plot.width / 80)),
    x,
    y: axis.y,
  };
}

/** Least distance of two marks of a spread axis (px). */
const LEAST_STEP = 13;

interface Axis {
  y: (value: number) => number;
  ticks: Tick[];
  zero: number | null;
}

const known = (values: Values): number[] => values.filter((v) => v !== null);

function linearAxis(strip: Strip, plot: { y: number; height: number }): Axis {
  const all = [...known(strip.value), ...known(strip.nominal?.value ?? [])];
  const signed = all.some((v) => v < 0);
  const most = Math.max(...all.map(Math.abs), 0);
  const domain = signed ? padDomain(-most, most) : padDomain(0, most || 1);
  const y = linearScale(domain, [plot.y + plot.height, plot.y]);
  return { y, ticks: axisTicks(domain, y, Math.max(2, plot.height / 30)), zero: y(0) };
}

/** An axis of asinh(v / c): linear near zero, by decades farther out. c is the decade of the middle size. */
function spreadAxis(strip: Strip, plot: { y: number; height: number }): Axis {
  const sizes = known(strip.value)
    .map(Math.abs)
    .sort((a, b) => a - b);
  const unit = 10 ** Math.floor(Math.log10(sizes[sizes.length >> 1] || 1));
  const bent = (value: number): number => Math.asinh(value / unit);
  const all = known(strip.value).map(bent);
  const domain = padDomain(Math.min(0, ...all), Math.max(0, ...all));
  const scale = linearScale(domain, [plot.y + plot.height, plot.y]);
  const y = (value: number): number => scale(bent(value));
  const decades = Array.from({ length: 8 }, (_, k) => unit * 10 ** k);
  const marks = [...decades.map((d) => -d).reverse(), 0, ...decades].filter(
    (value) => bent(value) > domain[0] && bent(value) < domain[1],
  );
  const ticks = marks
    .sort((a, b) => Math.abs(a) - Math.abs(b))
    .map((value) => ({ at: y(value), value, text: String(Number(value.toPrecision(1))).replace('-', '−') }));
  const kept: Tick[] = [];
  for (const tick of ticks) if (kept.every((other) => Math.abs(other.at - tick.at) > LEAST_STEP)) kept.push(tick);
  return { y, ticks: kept, zero: y(0) };
}
