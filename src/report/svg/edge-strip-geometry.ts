import type { LimitsAt } from '../../judge/map-places.ts';
import type { SectionResult } from '../../model/results.ts';
import { axisTicks, linearScale, padDomain, type Scale, type Tick } from './axis.ts';
import { linePath } from './path.ts';
import { type OutlineSamples, outlineSamples } from './plot-samples.ts';

export interface EdgeStripOptions {
  limitsAt: LimitsAt;
  width: number;
  height: number;
  margin?: { left: number; top: number; right: number; bottom: number };
}

export interface EdgeLine {
  edge: 'leading' | 'trailing';
  line: string;
  lowerLimit: string;
  upperLimit: string;
  /** Normal angle from the nose (degrees, suction side negative) and deviation (mm), a value a sample. */
  angleDeg: number[];
  deviation: (number | null)[];
}

export interface EdgeStripGeometry {
  width: number;
  height: number;
  plot: { x: number; y: number; width: number; height: number };
  edges: EdgeLine[];
  zero: number;
  angleTicks: Tick[];
  valueTicks: Tick[];
  x: Scale;
  y: Scale;
}

const MARGIN = { left: 58, top: 14, right: 14, bottom: 40 };
const HALF_TURN = 90;

/** Deviation of both noses over the normal's angle from the nose, −90 … +90 degrees, suction side left. */
export function edgeStripGeometry(section: SectionResult, options: EdgeStripOptions): EdgeStripGeometry | null {
  const samples = outlineSamples(section, options.limitsAt);
  if (!samples) return null;
  const margin = options.margin ?? MARGIN;
  const plot = {
    x: margin.left,
    y: margin.top,
    width: options.width - margin.left - margin.right,
    height: options.height - margin.top - margin.bottom,
  };
  const noses = (['leading', 'trailing'] as const).map((edge) => ({ edge, ...noseSamples(samples, edge) }));
  const shown = noses.flatMap((nose) =>
    nose.index.flatMap((i) => [samples.deviation[i] ?? 0, samples.limits[i].lower ?? 0, samples.limits[i].upper ?? 0]),
  );
  const domain = padDomain(Math.min(0, ...shown), Math.max(0, ...shown));
  const x = linearScale([-HALF_TURN, HALF_TURN], [plot.x, plot.x + plot.width]);
  const y = linearScale(domain, [plot.y + plot.height, plot.y]);
  const value = (v: number | null) => (v === null ? null : y(v));
  return {
    width: options.width,
    height: options.height,
    plot,
    edges: noses.map(({ edge, index, angleDeg }) => {
      const xs = angleDeg.map(x);
      const deviation = index.map((i) => samples.deviation[i]);
      return {
        edge,
        line: linePath(xs, deviation.map(value)),
        lowerLimit: linePath(
          xs,
          index.map((i) => value(samples.limits[i].lower)),
        ),
        upperLimit: linePath(
          xs,
          index.map((i) => value(samples.limits[i].upper)),
        ),
        angleDeg,
        deviation,
      };
    }),
    zero: y(0),
    angleTicks: [-90, -60, -30, 0, 30, 60, 90].map((at) => ({
      at: x(at),
      value: at,
      text: String(at).replace('-', '−'),
    })),
    valueTicks: axisTicks(domain, y, Math.max(2, plot.height / 36)),
    x,
    y,
  };
}

/** Samples of one nose in order of their normal angle, suction side first; stops where the normal has turned by 90°. */
function noseSamples(samples: OutlineSamples, edge: 'leading' | 'trailing'): { index: number[]; angleDeg: number[] } {
  const n = samples.x.length;
  const target = edge === 'leading' ? 0 : samples.pressureEnd;
  let nose = 0;
  for (let i = 1; i < n; i++)
    if (Math.abs(samples.along[i] - target) < Math.abs(samples.along[nose] - target)) nose = i;
  const walk = (direction: 1 | -1) => {
    const found: { i: number; angle: number }[] = [];
    let angle = 0;
    for (let k = 1; k < n / 2; k++) {
      const [i, before] = [(nose + direction * k + n * n) % n, (nose + direction * (k - 1) + n * n) % n];
      angle += Math.abs(turn(samples, before, i));
      if (angle > HALF_TURN) break;
      found.push({ i, angle });
    }
    return found;
  };
  const [forward, backward] = [walk(1), walk(-1)];
  const forwardIsSuction = (forward.at(-1) && samples.along[forward.at(-1)!.i] < 0) ?? false;
  const [suction, pressure] = forwardIsSuction ? [forward, backward] : [backward, forward];
  return {
    index: [...suction.map((s) => s.i).reverse(), nose, ...pressure.map((s) => s.i)],
    angleDeg: [...suction.map((s) => -s.angle).reverse(), 0, ...pressure.map((s) => s.angle)],
  };
}

/** Angle (degrees) by which the normal turns between two samples. */
function turn(samples: OutlineSamples, a: number, b: number): number {
  const cross = samples.normalX[a] * samples.normalY[b] - samples.normalY[a] * samples.normalX[b];
  const dot = samples.normalX[a] * samples.normalX[b] + samples.normalY[a] * samples.normalY[b];
  return (Math.atan2(cross, dot) * 180) / Math.PI;
}
