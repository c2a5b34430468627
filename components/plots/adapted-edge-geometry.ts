import type { Polyline, SectionResult } from '../../src/model/results.ts';
import { axisTicks, linearScale, type ScaleBar, scaleBar } from '../../src/report/svg/axis.ts';
import { linePath } from '../../src/report/svg/path.ts';
import { outwardNormals, valueAlong } from '../../src/report/svg/plot-samples.ts';
import type { Numbers } from './plot-numbers.ts';

/** Closed line of points in the section's plane (mm); NaN where the blank was not measured. */
interface Line {
  x: number[];
  y: number[];
}

/** Stock of a blank (mm; null = not measured) over the place along the nominal outline, rising. */
type Stock = Pick<NonNullable<SectionResult['plot']>, 'along' | 'deviation'>;

export type EdgeEnd = 'leading' | 'trailing';
export type EdgeLineName = 'nominal' | 'blank' | 'adapted';
export const EDGE_LINES: readonly EdgeLineName[] = ['nominal', 'blank', 'adapted'];

/** One section as nominal, as forged and as adapted, on its chord. */
export interface SectionLines {
  lines: Record<EdgeLineName, Line | null>;
  /** Unit direction of the nominal's longest chord, from leading to trailing edge. */
  dirX: number;
  dirY: number;
  /** True where the suction side lies to the left of that direction. */
  suctionLeft: boolean;
}

/** What is drawn of an edge: places are px, up is to the left of the chord. */
export interface AdaptedEdgePicture {
  end: EdgeEnd;
  paths: Record<EdgeLineName, string>;
  /** Ends of the new edge on the adapted outline; empty where they lie outside the picture. */
  junctions: { side: 'suction' | 'pressure'; x: number; y: number }[];
  /** Abscissa of the nose line, which set-backs count from. */
  nose: number;
  suctionUp: boolean;
}

export interface AdaptedEdgesGeometry {
  width: number;
  height: number;
  /** The same for both edges. */
  pxPerMm: number;
  bar: ScaleBar;
  edges: AdaptedEdgePicture[];
}

type Setbacks = Record<EdgeEnd, { suction: number; pressure: number } | null>;

/** Places of the farthest two points of a closed line, the one on the side of the first point first. */
function longestChord({ x, y }: Line): [number, number] {
  const farthest = (from: number): number => {
    let best = from;
    for (let i = 0; i < x.length; i++)
      if (Math.hypot(x[i] - x[from], y[i] - y[from]) > Math.hypot(x[best] - x[from], y[best] - y[from])) best = i;
    return best;
  };
  let [leading, trailing] = [0, farthest(0)];
  for (let turn = 0; turn < x.length; turn++) {
    const next = farthest(trailing);
    const after = farthest(next);
    if (next === leading && after === trailing) break;
    [leading, trailing] = [next, after];
  }
  return [leading, trailing];
}

/** The blank's outline: at every place with a value of stock, the nominal moved along its normal by it. */
function blankLine(nominal: Polyline, stock: Stock): Line {
  const outward = outwardNormals(nominal);
  const order = [...nominal.along.keys()].sort((a, b) => nominal.along[a] - nominal.along[b]);
  const [first, last] = [order[0], order[order.length - 1]];
  const gap = Math.hypot(nominal.x[last] - nominal.x[first], nominal.y[last] - nominal.y[first]);
  const turn = nominal.along[last] - nominal.along[first] + gap;
  const around = [last, ...order, first];
  const along = around.map((i, k) => nominal.along[i] + (k === 0 ? -turn : k > order.length ? turn : 0));
  const of = (value: readonly number[]) => {
    const list = around.map((i) => value[i]);
    return (at: number): number => valueAlong(along, list, at) ?? Number.NaN;
  };
  const [x, y, nx, ny] = [nominal.x, nominal.y, outward.x, outward.y].map(of);
  const amount = (i: number): number => stock.deviation[i] ?? Number.NaN;
  return {
    x: stock.along.map((at, i) => x(at) + amount(i) * nx(at)),
    y: stock.along.map((at, i) => y(at) + amount(i) * ny(at)),
  };
}

/**
 * @param guide nominal outline that gives the chord's direction, starting at the leading edge; that of a section nearby
 *   where this section has none
 * @param nominal the section's own nominal outline; null: neither it nor the blank is drawn
 * @param adapted adapted outline, closed, x0, y0, x1, … (mm)
 */
export function sectionLines(
  guide: Polyline,
  nominal: Polyline | null,
  stock: Stock,
  adapted: Float64Array,
): SectionLines {
  const [leading, trailing] = longestChord(guide);
  const [dx, dy] = [guide.x[trailing] - guide.x[leading], guide.y[trailing] - guide.y[leading]];
  const length = Math.hypot(dx, dy);
  const [dirX, dirY] = [dx / length, dy / length];
  let left = 0;
  guide.along.forEach((at, i) => {
    const across = dirX * (guide.y[i] - guide.y[leading]) - dirY * (guide.x[i] - guide.x[leading]);
    left -= Math.sign(at) * across;
  });
  const points = Array.from({ length: adapted.length / 2 }, (_, i) => i);
  return {
    lines: {
      nominal: nominal && { x: nominal.x, y: nominal.y },
      blank: nominal && blankLine(nominal, stock),
      adapted: { x: points.map((i) => adapted[2 * i]), y: points.map((i) => adapted[2 * i + 1]) },
    },
    dirX,
    dirY,
    suctionLeft: left > 0,
  };
}

/** A line by its distance inside the nose line and its place across the chord (mm, left positive). */
export interface EdgeView {
  depth: number[];
  across: number[];
}

/** Returns the lines of a section as seen from one end: distances count from the tip of the adapted outline. */
export function edgeViews({ lines, dirX, dirY }: SectionLines, end: EdgeEnd): Record<EdgeLineName, EdgeView | null> {
  const inward = end === 'leading' ? 1 : -1;
  const depthOf = ({ x, y }: Line): number[] => x.map((at, i) => inward * (dirX * at + dirY * y[i]));
  const tip = Math.min(...depthOf(lines.adapted!));
  const view = (line: Line | null): EdgeView | null =>
    line && { depth: depthOf(line).map((d) => d - tip), across: line.x.map((at, i) => dirX * line.y[i] - dirY * at) };
  return { nominal: view(lines.nominal), blank: view(lines.blank), adapted: view(lines.adapted) };
}

/** Places across the chord at a distance inside the nose line, the lower first; null where a line is not there. */
export function crossings({ depth, across }: EdgeView, at: number): [number | null, number | null] {
  const n = depth.length;
  const tip = depth.reduce((best, d, i) => (d < depth[best] || Number.isNaN(depth[best]) ? i : best), 0);
  const walk = (step: 1 | -1): number | null => {
    if (!(depth[tip] <= at)) return null;
    for (let k = 1; k < n; k++) {
      const [before, now] = [(tip + step * (k - 1) + n * n) % n, (tip + step * k + n * n) % n];
      if (Number.isNaN(depth[now])) return null;
      if (depth[now] < at) continue;
      const share = (at - depth[before]) / (depth[now] - depth[before] || 1);
      return across[before] + share * (across[now] - across[before]);
    }
    return null;
  };
  const [forward, backward] = [walk(1), walk(-1)];
  return (forward ?? backward ?? 0) > (backward ?? forward ?? 0) ? [backward, forward] : [forward, backward];
}

/** Least depth shown (mm), and how much more than the deepest set-back. */
const LEAST_DEPTH = 1;
const BEYOND = 1.35;
const MARGIN = 10;
/** Below the picture, for the scale bar (px). */
export const BAR_ROOM = 26;
/** Values a side in the table. */
const ROWS = 12;

function shownDepth(setbacks: Setbacks): number {
  const deepest = Math.max(0, ...Object.values(setbacks).flatMap((s) => (s ? [s.suction, s.pressure] : [])));
  return Math.max(LEAST_DEPTH, BEYOND * deepest);
}

/** Place across the chord of the side's crossing. */
function sideAcross(view: EdgeView, at: number, upper: boolean): number | null {
  const [low, high] = crossings(view, at);
  return upper ? high : low;
}

/**
 * Both edges of a section at one true scale, each in a box of the same size: the chord level, the leading edge pointing
 * left and the trailing edge right. Everything near the junctions is inside; lines run on to the border, and may leave the
 * box above or below on their way.
 */
export function adaptedEdges(
  section: SectionLines,
  setbacks: Setbacks,
  { width, height }: { width: number; height: number },
): AdaptedEdgesGeometry {
  const depth = shownDepth(setbacks);
  const seen = (['leading', 'trailing'] as const).map((end) => {
    const views = edgeViews(section, end);
    let [out, low, high] = [0, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (const name of EDGE_LINES)
      views[name]?.depth.forEach((d, i) => {
        if (!(d <= depth)) return;
        out = Math.max(out, -d);
        low = Math.min(low, views[name]!.across[i]);
        high = Math.max(high, views[name]!.across[i]);
      });
    return { end, views, out, low, high };
  });
  const room = { x: width - 2 * MARGIN, y: height - 2 * MARGIN - BAR_ROOM };
  const pxPerMm = Math.min(
    ...seen.map(({ out, low, high }) => Math.min(room.x / (depth + out), room.y / (high - low))),
  );
  const edges = seen.map(({ end, views, out, low, high }): AdaptedEdgePicture => {
    const inward = end === 'leading' ? 1 : -1;
    const nose = end === 'leading' ? MARGIN + out * pxPerMm : width - MARGIN - out * pxPerMm;
    const toX = (d: number): number => nose + inward * d * pxPerMm;
    const toY = (c: number): number => MARGIN + room.y / 2 - (c - (low + high) / 2) * pxPerMm;
    const border = (end === 'leading' ? width - nose : nose) / pxPerMm;
    const path = (view: EdgeView | null): string => {
      if (!view) return '';
      const n = view.depth.length;
      const around = [...view.depth.keys(), 0];
      const isNear = (i: number): boolean => [i, (i + 1) % n, (i + n - 1) % n].some((k) => view.depth[k] <= border);
      const near = around.map((i) => (isNear(i) ? toY(view.across[i]) : null));
      return linePath(
        around.map((i) => toX(view.depth[i])),
        near,
      );
    };
    const own = setbacks[end];
    const junctions = (['suction', 'pressure'] as const).flatMap((side) => {
      const at = own?.[side] ?? Number.POSITIVE_INFINITY;
      const across = at <= depth ? sideAcross(views.adapted!, at, (side === 'suction') === section.suctionLeft) : null;
      return across === null ? [] : [{ side, x: toX(at), y: toY(across) }];
    });
    const paths = { nominal: path(views.nominal), blank: path(views.blank), adapted: path(views.adapted) };
    return { end, paths, junctions, nose, suctionUp: section.suctionLeft };
  });
  return { width, height, pxPerMm, bar: scaleBar(pxPerMm, width / 3, MARGIN, height - 8), edges };
}

/** Places of every line across the chord, over the distance from the nose line; both edges, suction side positive. */
export function adaptedEdgeNumbers(section: SectionLines, setbacks: Setbacks, end: EdgeEnd): Numbers {
  const views = edgeViews(section, end);
  const depth = shownDepth(setbacks);
  const steps = axisTicks([0, depth], linearScale([0, depth], [0, 1]), ROWS).map(({ value }) => value);
  const drawn = EDGE_LINES.filter((name) => views[name] !== null);
  const sign = section.suctionLeft ? 1 : -1;
  const tip = views.adapted!.across[views.adapted!.depth.indexOf(Math.min(...views.adapted!.depth))];
  const place = (name: EdgeLineName, at: number, suction: boolean): number | null => {
    const across = sideAcross(views[name]!, at, suction === section.suctionLeft);
    return across === null ? null : sign * (across - tip);
  };
  return {
    heads: [
      'from the nose line, mm',
      ...drawn.flatMap((name) => [`${name}, suction side, mm`, `${name}, pressure side, mm`]),
    ],
    decimals: [3, ...drawn.flatMap(() => [4, 4])],
    rows: steps.map((at) => [at, ...drawn.flatMap((name) => [place(name, at, true), place(name, at, false)])]),
  };
}
