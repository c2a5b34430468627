import type { Verdict } from '../../model/results.ts';
import { axisTicks, linearScale, padDomain, type Scale, type Tick } from './axis.ts';
import { linePath } from './path.ts';

/** One characteristic over the span. Arrays run parallel to `heights`. */
export interface TrendSeries {
  /** Path of the value, such as `leadingEdge.radiusFit`. */
  of: string;
  name: string;
  unit: string;
  sections: string[];
  heights: number[];
  value: (number | null)[];
  /** Standard uncertainty (k = 1). */
  u: (number | null)[];
  nominal: (number | null)[];
  lower: (number | null)[];
  upper: (number | null)[];
  verdict: Verdict[];
  /** Set when values and limits are deviations from nominal. */
  aboutNominal?: boolean;
}

export interface TrendPanelOptions {
  /** Heights at the bottom and top border (mm); give the map's to share its axis. */
  heightDomain: readonly [number, number];
  width: number;
  height: number;
  margin?: { left: number; top: number; right: number; bottom: number };
}

export interface TrendPanelGeometry {
  width: number;
  height: number;
  plot: { x: number; y: number; width: number; height: number };
  line: string;
  nominal: string;
  lowerLimit: string;
  upperLimit: string;
  points: {
    index: number;
    x: number;
    y: number;
    verdict: Verdict /** Ends of the ±2u bar. */;
    low: number;
    high: number;
  }[];
  /** Heights (px) of sections without a value. */
  missing: { index: number; y: number }[];
  valueTicks: Tick[];
  heightTicks: Tick[];
  x: Scale;
  y: Scale;
  /** Index of the section nearest to a picture height. */
  nearest(y: number): number;
}

const MARGIN = { left: 12, top: 30, right: 12, bottom: 26 };

/** Places of one trend panel: value across, height up, limits and nominal as lines, ±2u as bars. */
export function trendPanelGeometry(series: TrendSeries, options: TrendPanelOptions): TrendPanelGeometry {
  const margin = options.margin ?? MARGIN;
  const plot = {
    x: margin.left,
    y: margin.top,
    width: options.width - margin.left - margin.right,
    height: options.height - margin.top - margin.bottom,
  };
  const spread = series.value.flatMap((value, i) =>
    value === null ? [] : [value - 2 * (series.u[i] ?? 0), value + 2 * (series.u[i] ?? 0)],
  );
  const shown = [...spread, ...series.nominal, ...series.lower, ...series.upper].filter((v) => v !== null);
  const domain = padDomain(Math.min(...shown), Math.max(...shown), 0.1);
  const x = linearScale(domain, [plot.x, plot.x + plot.width]);
  const y = linearScale([options.heightDomain[0], options.heightDomain[1]], [plot.y + plot.height, plot.y]);
  const line = (values: readonly (number | null)[]) =>
    linePath(
      values.map((value) => x(value ?? 0)),
      values.map((value, i) => (value === null ? null : y(series.heights[i]))),
    );
  return {
    width: options.width,
    height: options.height,
    plot,
    line: line(series.value),
    nominal: line(series.nominal),
    lowerLimit: line(series.lower),
    upperLimit: line(series.upper),
    points: series.value.flatMap((value, index) => {
      if (value === null) return [];
      const U = 2 * (series.u[index] ?? 0);
      const place = { x: x(value), y: y(series.heights[index]), low: x(value - U), high: x(value + U) };
      return [{ index, ...place, verdict: series.verdict[index] }];
    }),
    missing: series.value.flatMap((value, index) => (value === null ? [{ index, y: y(series.heights[index]) }] : [])),
    valueTicks: axisTicks(domain, x, Math.max(1, plot.width / 44)),
    heightTicks: axisTicks(options.heightDomain, y, Math.max(2, plot.height / 60)),
    x,
    y,
    nearest(at) {
      let best = 0;
      for (let i = 1; i < series.heights.length; i++)
        if (Math.abs(y(series.heights[i]) - at) < Math.abs(y(series.heights[best]) - at)) best = i;
      return best;
    },
  };
}
