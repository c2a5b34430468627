import type { Value } from '../../src/model/value.ts';
import type { EdgeTrace } from '../../src/redefine.ts';
import {
  axisTicks,
  linearScale,
  padDomain,
  type Scale,
  type ScaleBar,
  scaleBar,
  type Tick,
} from '../../src/report/svg/axis.ts';
import { linePath, px } from '../../src/report/svg/path.ts';

interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** One edge at true scale, magnified, with the curve fitted to it. */
export interface CloseUp {
  /** Measured points (px). */
  points: { x: number; y: number; inRange: boolean }[];
  /** The fitted curve, and its stretch within the fit range. */
  fitted: string;
  fittedInRange: string;
  /** mm to px. */
  pxPerMm: number;
  /** A round length to compare with. */
  bar: ScaleBar;
}

/** Residuals over the angle of the normal. */
export interface ResidualStrip {
  plot: Box;
  points: { x: number; y: number; inRange: boolean }[];
  line: string;
  zero: number;
  /** Places of the fit range's ends (px), null where the definition has none. */
  range: [number, number] | null;
  angleTicks: Tick[];
  valueTicks: Tick[];
  x: Scale;
}

/** Angle shown to each side (degrees). */
export const SHOWN_DEG = 100;
/** A strip wider than this names every 30 degrees (px). */
const ROOMY = 260;
/** Room for the scale bar (px). */
const BAR_ROOM = 22;

/**
 * Direction (rad) in which the normal of angle 0 points: the mean, by length, of what each step between neighbouring
 * points says.
 */
export function edgeDirection({ angleDeg, x, y }: EdgeTrace): number {
  let east = 0;
  let north = 0;
  for (let i = 0; i + 1 < x.length; i++) {
    const [dx, dy] = [x[i + 1] - x[i], y[i + 1] - y[i]];
    const length = Math.hypot(dx, dy);
    if (length === 0) continue;
    const normal = Math.atan2(-dx, dy);
    const own = normal - ((angleDeg[i] + angleDeg[i + 1]) * Math.PI) / 360;
    east += length * Math.cos(own);
    north += length * Math.sin(own);
  }
  return Math.atan2(north, east);
}

/** The curve a value describes: a circle by its centre, an ellipse by nose, inward axis and half axes. */
type Curve = { x: number; y: number; a: number; b: number; axis: number };

/** Returns the fitted curve of a value, a circle as an ellipse of equal axes; null where it describes none. */
export function fittedCurve({ value, evidence = {} }: Pick<Value, 'value' | 'evidence'>): Curve | null {
  const number = (name: string): number => (typeof evidence[name] === 'number' ? evidence[name] : Number.NaN);
  const axis = (number('axisDeg') * Math.PI) / 180;
  const [a, b] = [number('a'), number('b')];
  const ellipse = {
    x: number('noseX') + a * Math.cos(axis),
    y: number('noseY') + a * Math.sin(axis),
    a,
    b,
    axis: axis + Math.PI,
  };
  if (Object.values(ellipse).every(Number.isFinite)) return ellipse;
  const circle = {
    x: number('centreX'),
    y: number('centreY'),
    a: value ?? Number.NaN,
    b: value ?? Number.NaN,
    axis: 0,
  };
  return Object.values(circle).every(Number.isFinite) ? circle : null;
}

/** Points of a curve whose outward normals run from one direction to another (rad). */
function curvePoints(curve: Curve, from: number, to: number): { x: number[]; y: number[] } {
  const points = { x: [] as number[], y: [] as number[] };
  const steps = Math.max(2, Math.ceil((to - from) / 0.05));
  for (let k = 0; k <= steps; k++) {
    const normal = from + ((to - from) * k) / steps - curve.axis;
    const [c, s] = [Math.cos(normal), Math.sin(normal)];
    const scale = Math.hypot(curve.a * c, curve.b * s);
    const [along, across] = [(curve.a ** 2 * c) / scale, (curve.b ** 2 * s) / scale];
    points.x.push(curve.x + along * Math.cos(curve.axis) - across * Math.sin(curve.axis));
    points.y.push(curve.y + along * Math.sin(curve.axis) + across * Math.cos(curve.axis));
  }
  return points;
}

const within = (angle: number, half: number | null): boolean => half === null || Math.abs(angle) <= half + 1e-9;

/** The angle may fall back by this much before the edge is taken to end: a hollow flank turns it round. */
const FALL_DEG = 3;

/**
 * Returns the part of a trace that belongs to the edge: from the nose to either side until the normal has turned by
 * the given angle or turns back.
 */
export function nearNose(trace: EdgeTrace, mostDeg: number): EdgeTrace {
  const { angleDeg } = trace;
  const nose = angleDeg.reduce((best, a, i) => (Math.abs(a) < Math.abs(angleDeg[best]) ? i : best), 0);
  const walk = (step: 1 | -1): number => {
    let [last, far] = [nose, 0];
    for (let i = nose; i >= 0 && i < angleDeg.length; i += step) {
      const out = step * angleDeg[i];
      if (out > mostDeg || out < far - FALL_DEG) break;
      far = Math.max(far, out);
      last = i;
    }
    return last;
  };
  const [from, to] = [walk(-1), walk(1) + 1];
  return {
    angleDeg: angleDeg.slice(from, to),
    residual: trace.residual.slice(from, to),
    x: trace.x.slice(from, to),
    y: trace.y.slice(from, to),
  };
}

/** The picture shows at least this much of the edge to each side (degrees of normal). */
const FRAMED_DEG = 70;

/**
 * Lays out the close-up in a box. The picture keeps the part's own directions, Y up; points and curve may reach beyond
 * the box.
 */
export function closeUp(
  trace: EdgeTrace,
  value: Pick<Value, 'value' | 'evidence'>,
  half: number | null,
  box: Box,
): CloseUp | null {
  const { x: xs, y: ys } = nearNose(trace, Math.max(FRAMED_DEG, half ?? 0));
  if (xs.length < 3) return null;
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const room = box.height - BAR_ROOM;
  const pxPerMm = 0.8 * Math.min(box.width / Math.max(x1 - x0, 1e-9), room / Math.max(y1 - y0, 1e-9));
  const toX = (x: number): number => box.x + box.width / 2 + (x - (x0 + x1) / 2) * pxPerMm;
  const toY = (y: number): number => box.y + room / 2 - (y - (y0 + y1) / 2) * pxPerMm;
  const curve = fittedCurve(value);
  const path = (from: number, to: number): string => {
    if (!curve) return '';
    const points = curvePoints(curve, from, to);
    return linePath(points.x.map(toX), points.y.map(toY));
  };
  const direction = edgeDirection(trace);
  const reach = ((half ?? 180) * Math.PI) / 180;
  return {
    points: trace.x.map((x, i) => ({ x: toX(x), y: toY(trace.y[i]), inRange: within(trace.angleDeg[i], half) })),
    fitted: path(direction - Math.PI, direction + Math.PI),
    fittedInRange: path(direction - reach, direction + reach),
    pxPerMm,
    bar: scaleBar(pxPerMm, box.width / 2.5, box.x + 4, box.y + box.height - 4),
  };
}

/** Lays out the residuals in a box; margins for the axes are its own. */
export function residualStrip(trace: EdgeTrace, half: number | null, box: Box): ResidualStrip {
  const plot = { x: box.x + 52, y: box.y + 8, width: box.width - 64, height: box.height - 34 };
  const shown = trace.residual.filter((_, i) => within(trace.angleDeg[i], half ?? FRAMED_DEG));
  const most = Math.max(1e-4, ...shown.map(Math.abs));
  const domain = padDomain(-1.6 * most, 1.6 * most);
  const x = linearScale([-SHOWN_DEG, SHOWN_DEG], [plot.x, plot.x + plot.width]);
  const y = linearScale(domain, [plot.y + plot.height, plot.y]);
  const inside = (r: number): boolean => r >= domain[0] && r <= domain[1];
  const kept = trace.angleDeg.map((_, i) => i).filter((i) => inside(trace.residual[i]));
  return {
    plot,
    points: kept.map((i) => ({
      x: x(trace.angleDeg[i]),
      y: y(trace.residual[i]),
      inRange: within(trace.angleDeg[i], half),
    })),
    line: linePath(
      trace.angleDeg.map(x),
      trace.residual.map((r) => (inside(r) ? y(r) : null)),
    ),
    zero: y(0),
    range: half === null ? null : [x(-half), x(half)],
    angleTicks: [-90, -60, -30, 0, 30, 60, 90]
      .filter((at) => plot.width > ROOMY || at % 60 === 0)
      .map((at) => ({
        at: x(at),
        value: at,
        text: String(at).replace('-', '−'),
      })),
    valueTicks: axisTicks(domain, y, Math.max(2, plot.height / 34)),
    x,
  };
}

/** Path of small dots, one subpath a point, so that hundreds cost one element. */
export function dotsPath(points: readonly { x: number; y: number }[]): string {
  return points.map(({ x, y }) => `M${px(x)} ${px(y)}h0`).join('');
}
