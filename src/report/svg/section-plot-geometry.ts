import type { LimitsAt } from '../../judge/map-places.ts';
import type { SectionResult } from '../../model/results.ts';
import type { Step } from '../colours.ts';
import { type ScaleBar, scaleBar } from './axis.ts';
import { linePath, px } from './path.ts';
import { largestAmount, type OutlineSamples, outlineSamples, stepRuns } from './plot-samples.ts';

export interface SectionPlotOptions {
  /** Limits of places on the surface, as from `limitsFromZones`. */
  limitsAt: LimitsAt;
  /** Factor by which deviations and limits are drawn larger than the outline; 1 is true scale, absent: chosen. */
  magnification?: number;
  /** Room for the picture, margins included (px). */
  width: number;
  height: number;
  margin?: number;
}

export interface SectionPlotGeometry {
  width: number;
  height: number;
  /** Factor at which the gap and the limits are drawn. */
  magnification: number;
  pxPerMm: number;
  /** Nominal outline, closed. */
  nominal: string;
  /** Measured outline at nominal + magnification × deviation, gaps open. */
  measured: string;
  lowerLimit: string;
  upperLimit: string;
  /** The gap between nominal and measured as filled areas, one path a step. */
  band: { step: Step; path: string }[];
  camber: string;
  /** True when some of the measured line is left out because the magnified amount exceeds the edge's radius. */
  folded: boolean;
  /** Stretches of the nominal outline without measured points. */
  notMeasured: string;
  leading: { x: number; y: number };
  trailing: { x: number; y: number };
  shapeBar: ScaleBar;
  /** Bar of the magnified deviations; its length is a true deviation. */
  deviationBar: ScaleBar;
  /** Picture place of a blade place (mm). */
  x(x: number): number;
  y(y: number): number;
  /** Index of the nominal sample nearest to a picture place. */
  nearest(x: number, y: number): number;
  samples: OutlineSamples;
}

/** Share of the picture height that the largest deviation or limit takes when the magnification is chosen. */
const AMOUNT_SHARE = 0.12;
const FACTORS = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];

/** Magnification from a fixed list that draws `amount` (mm) as about `room` (mm of the picture), never below 1. */
export function chooseMagnification(amount: number, room: number): number {
  if (!(amount > 0)) return 1;
  return FACTORS.filter((factor) => factor * amount <= room).pop() ?? 1;
}

/**
 * Paths of one section at equal scale: nominal, limits and measured drawn by one rule, nominal + M × amount × normal,
 * so that inside the limits stays inside. Null when the section has no nominal outline.
 */
export function sectionPlotGeometry(section: SectionResult, options: SectionPlotOptions): SectionPlotGeometry | null {
  const samples = outlineSamples(section, options.limitsAt);
  if (!samples) return null;
  const margin = options.margin ?? 34;
  const [left, right] = [Math.min(...samples.x), Math.max(...samples.x)];
  const [low, high] = [Math.min(...samples.y), Math.max(...samples.y)];
  const amount = largestAmount(samples.deviation, samples.limits);
  const [roomX, roomY] = [options.width - 2 * margin, options.height - 2 * margin - 24];
  const bare = Math.min(roomX / (right - left), roomY / (high - low));
  const magnification = options.magnification ?? chooseMagnification(amount, (AMOUNT_SHARE * roomY) / bare);
  const grow = 2 * amount * magnification;
  const pxPerMm = Math.min(roomX / (right - left + grow), roomY / (high - low + grow));
  const centreX = options.width / 2 - ((left + right) / 2) * pxPerMm;
  const centreY = margin + roomY / 2 + ((low + high) / 2) * pxPerMm;
  const x = (value: number) => centreX + value * pxPerMm;
  const y = (value: number) => centreY - value * pxPerMm;
  const n = samples.x.length;
  /** An inward amount beyond the radius of curvature would turn the drawn curve inside out: left out there. */
  const folds = (i: number, d: number) => magnification * d * samples.curvature[i] <= -1;
  const at = (i: number, d: number | null): [number, number | null] => {
    const offset = magnification * (d ?? 0);
    const drawn = d !== null && !folds(i, d);
    return [
      x(samples.x[i] + offset * samples.normalX[i]),
      drawn ? y(samples.y[i] + offset * samples.normalY[i]) : null,
    ];
  };
  const line = (amounts: readonly (number | null)[]) => {
    const places = amounts.map((d, i) => at(i, d));
    const path = linePath(
      [...places, places[0]].map((p) => p[0]),
      [...places, places[0]].map((p) => p[1]),
    );
    return path;
  };
  const shown = samples.deviation.map((d, i) => (d === null || folds(i, d) ? null : d));
  const looped = [...shown, shown[0]];
  const loopedLimits = [...samples.limits, samples.limits[0]];
  const band = new Map<Step, string>();
  for (const run of stepRuns(looped, loopedLimits)) {
    const indices = Array.from({ length: run.to - run.from + 1 }, (_, k) => (run.from + k) % n);
    const there = indices.map((i, k) => `${k ? 'L' : 'M'}${px(x(samples.x[i]))} ${px(y(samples.y[i]))}`);
    const back = indices.reverse().map((i) => {
      const [bx, by] = at(i, samples.deviation[i]);
      return `L${px(bx)} ${px(by!)}`;
    });
    band.set(run.step, `${band.get(run.step) ?? ''}${there.join('')}${back.join('')}Z`);
  }
  const drawn = (keep: (i: number) => boolean) =>
    linePath(
      samples.x.map(x),
      samples.y.map((value, i) => (keep(i) ? y(value) : null)),
    );
  const edge = (position: number) => {
    const i = samples.along.reduce(
      (best, a, k) => (Math.abs(a - position) < Math.abs(samples.along[best] - position) ? k : best),
      0,
    );
    return { x: x(samples.x[i]), y: y(samples.y[i]) };
  };
  const camber = section.plot?.camber;
  const barY = options.height - margin / 2;
  const trueBar = scaleBar(pxPerMm, options.width / 5, margin, barY);
  const amountBar = scaleBar(pxPerMm * magnification, options.width / 8, 0, barY);
  const barX = options.width - margin - amountBar.x2;
  return {
    width: options.width,
    height: options.height,
    magnification,
    pxPerMm,
    nominal: linePath(samples.x.map(x), samples.y.map(y), true),
    measured: line(samples.deviation),
    lowerLimit: line(samples.limits.map((limit) => limit.lower)),
    upperLimit: line(samples.limits.map((limit) => limit.upper)),
    band: [...band].sort((a, b) => a[0] - b[0]).map(([step, path]) => ({ step, path })),
    folded: samples.deviation.some((d, i) => d !== null && folds(i, d)),
    camber: camber ? linePath(camber.x.map(x), camber.y.map(y)) : '',
    notMeasured: drawn((i) => samples.deviation[i] === null),
    leading: edge(0),
    trailing: edge(samples.pressureEnd),
    shapeBar: trueBar,
    deviationBar: { ...amountBar, x1: barX, x2: barX + amountBar.x2, text: `${amountBar.text} deviation` },
    x,
    y,
    nearest(atX, atY) {
      let best = 0;
      for (let i = 1; i < n; i++) if (distance(i, atX, atY) < distance(best, atX, atY)) best = i;
      return best;
    },
    samples,
  };

  function distance(i: number, atX: number, atY: number): number {
    return Math.hypot(x(samples!.x[i]) - atX, y(samples!.y[i]) - atY);
  }
}
