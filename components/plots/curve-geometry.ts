import { linearScale, padDomain, type Scale } from '../../src/report/svg/axis.ts';
import { linePath } from '../../src/report/svg/path.ts';

export interface CurveGeometry {
  width: number;
  height: number;
  plot: { x: number; y: number; width: number; height: number };
  line: string;
  /** Picture height of value zero; null where zero is not among the values shown. */
  zero: number | null;
  x: Scale;
  y: Scale;
  /** Value of the curve at an abscissa, by straight lines between its points; null outside or without points. */
  at(x: number): number | null;
}

/** Places of one small curve: its points by straight lines, zero marked, both ends of the values kept in sight. */
export function curveGeometry(
  x: readonly number[],
  y: readonly number[],
  size: { width: number; height: number; left: number },
): CurveGeometry {
  const plot = { x: size.left, y: 5, width: size.width - size.left - 6, height: size.height - 10 };
  const last = x.length - 1;
  const [low, high] = [Math.min(0, ...y), Math.max(0, ...y)];
  const across = linearScale([x[0] ?? 0, x[last] ?? 1], [plot.x, plot.x + plot.width]);
  const up = linearScale(padDomain(low, high), [plot.y + plot.height, plot.y]);
  return {
    ...size,
    plot,
    line: linePath(x.map(across), y.map(up)),
    zero: y.length === 0 ? null : up(0),
    x: across,
    y: up,
    at(value) {
      if (last < 1 || value < x[0] || value > x[last]) return null;
      let i = 0;
      while (i < last - 1 && value > x[i + 1]) i++;
      const share = (value - x[i]) / (x[i + 1] - x[i]);
      return y[i] + share * (y[i + 1] - y[i]);
    },
  };
}
