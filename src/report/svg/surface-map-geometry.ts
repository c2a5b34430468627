import { cellBorders, type PlaceLimits } from '../../judge/map-places.ts';
import type { DeviationMap, Verdict } from '../../model/results.ts';
import { type Step, stepOf } from '../colours.ts';
import { axisTicks, linearScale, type Scale, type ScaleBar, scaleBar, type Tick } from './axis.ts';
import { linePath, px } from './path.ts';

export interface SurfaceMapOptions {
  /** Limits of every cell (mm), as from `limitsOfMap`. */
  limits: readonly (readonly PlaceLimits[])[];
  /** Sections marked at the left border. */
  sections?: readonly { id: string; height: number; verdict: Verdict }[];
  /** 'true': the same scale along and up. 'stretched': every row fills the width. */
  scale?: 'true' | 'stretched';
  /** Room for the plot itself, without margins (px). */
  width: number;
  height: number;
  margin?: { left: number; top: number; right: number; bottom: number };
}

export interface SurfaceMapGeometry {
  width: number;
  height: number;
  plot: { x: number; y: number; width: number; height: number };
  scale: 'true' | 'stretched';
  /** Picture scales; along is that of the widest row when stretched. */
  pxPerMmAlong: number;
  pxPerMmHeight: number;
  /** Filled cells, one path a step that occurs. */
  steps: { step: Step; path: string }[];
  /** Cells without data. */
  notMeasured: string;
  /** Line between cells within limits and cells beyond. */
  limitLine: string;
  outline: string;
  leadingEdge: string;
  sections: { id: string; height: number; verdict: Verdict; y: number }[];
  heightTicks: Tick[];
  alongTicks: Tick[];
  bar: ScaleBar;
  /** Picture place of a position along at a height, and of a height. */
  x(along: number, height: number): number;
  y(height: number): number;
  /** Cell under a picture place, null outside. */
  cellAt(x: number, y: number): { row: number; column: number } | null;
}

const MARGIN = { left: 58, top: 26, right: 14, bottom: 44 };

/**
 * Paths and places of the surface map: leading edge in the middle, suction side left, pressure side right, trailing edge
 * at both borders, height up; true length unless stretched.
 */
export function surfaceMapGeometry(map: DeviationMap, options: SurfaceMapOptions): SurfaceMapGeometry {
  const margin = options.margin ?? MARGIN;
  const scaleKind = options.scale ?? 'true';
  const rows = map.heights.length;
  const up = cellBorders(map.heights);
  const borders = map.along.map((row) => cellBorders(row));
  const left = Math.min(...borders.map((b) => b[0]));
  const right = Math.max(...borders.map((b) => b[b.length - 1]));
  const [wide, tall] = [right - left, up[rows] - up[0]];
  const both = Math.min(options.width / wide, options.height / tall);
  const pxPerMmAlong = scaleKind === 'true' ? both : options.width / wide;
  const pxPerMmHeight = scaleKind === 'true' ? both : options.height / tall;
  const plot = { x: margin.left, y: margin.top, width: wide * pxPerMmAlong, height: tall * pxPerMmHeight };
  const y = linearScale([up[0], up[rows]], [plot.y + plot.height, plot.y]);
  const middle = plot.x - left * pxPerMmAlong;
  const edges = borderRows(borders);
  const place = (row: readonly number[], at: number): number => {
    if (scaleKind === 'true') return middle + at * pxPerMmAlong;
    const end = at < 0 ? row[0] : row[row.length - 1];
    const room = at < 0 ? middle - plot.x : plot.x + plot.width - middle;
    return middle + (Math.sign(at) * room * at) / end;
  };
  const corner = (border: number, column: number) => place(edges[border], edges[border][column]);

  const step = map.deviation.map((row, i) =>
    row.map((d, j) => (d === null ? null : stepOf(d, options.limits[i][j].lower, options.limits[i][j].upper))),
  );
  const paths = new Map<Step | null, string>();
  for (let i = 0; i < rows; i++) {
    const [low, high] = [px(y(up[i])), px(y(up[i + 1]))];
    for (let j = 0, end = 0; j < step[i].length; j = end) {
      end = j + 1;
      while (end < step[i].length && step[i][end] === step[i][j]) end++;
      const quad = `M${px(corner(i, j))} ${low}L${px(corner(i, end))} ${low}L${px(corner(i + 1, end))} ${high}L${px(corner(i + 1, j))} ${high}Z`;
      paths.set(step[i][j], (paths.get(step[i][j]) ?? '') + quad);
    }
  }
  const rowOf = (height: number) => rowAt(up, height);
  const x = (along: number, height: number) => place(borders[rowOf(height)], along);
  const zero = edges.map((row) => place(row, 0));
  const ends = edges.map((_, i) => y(up[i]));
  const rightEnds = edges.map((row) => place(row, row[row.length - 1]));
  const leftEnds = edges.map((row) => place(row, row[0]));
  const alongScale: Scale = linearScale([left, right], [plot.x, plot.x + plot.width]);
  return {
    width: margin.left + plot.width + margin.right,
    height: margin.top + plot.height + margin.bottom,
    plot,
    scale: scaleKind,
    pxPerMmAlong,
    pxPerMmHeight,
    steps: [...paths]
      .filter((entry): entry is [Step, string] => entry[0] !== null)
      .sort((a, b) => a[0] - b[0])
      .map(([at, path]) => ({ step: at, path })),
    notMeasured: paths.get(null) ?? '',
    limitLine: limitLine(step, corner, up.map(y)),
    outline: linePath([...leftEnds, ...rightEnds.reverse()], [...ends, ...[...ends].reverse()], true),
    leadingEdge: linePath(zero, ends),
    sections: (options.sections ?? []).map((section) => ({ ...section, y: y(section.height) })),
    heightTicks: axisTicks([up[0], up[rows]], y, Math.max(2, plot.height / 60)),
    alongTicks: axisTicks([left, right], alongScale, Math.max(2, plot.width / 80)),
    bar: scaleBar(pxPerMmAlong, plot.width / 5, plot.x, margin.top + plot.height + 30),
    x,
    y,
    cellAt(atX, atY) {
      const height = y.invert(atY);
      if (height < up[0] || height > up[rows]) return null;
      const row = rowOf(height);
      for (let column = 0; column < borders[row].length - 1; column++)
        if (atX >= place(borders[row], borders[row][column]) && atX < place(borders[row], borders[row][column + 1]))
          return { row, column };
      return null;
    },
  };
}

/** Column borders at the borders between rows: means of the rows on both sides, the outer rows' own at the ends. */
function borderRows(borders: readonly number[][]): number[][] {
  const last = borders.length - 1;
  const mean = (a: readonly number[], b: readonly number[]) => a.map((value, j) => (value + b[j]) / 2);
  return [borders[0], ...borders.slice(1).map((row, i) => mean(borders[i], row)), borders[last]];
}

/** Row whose borders hold a height; the nearest one outside. */
function rowAt(up: readonly number[], height: number): number {
  let row = 0;
  while (row < up.length - 2 && height >= up[row + 1]) row++;
  return row;
}

/** Path of the borders between measured cells within limits and beyond, or beyond on the other side. */
function limitLine(
  step: readonly (readonly (Step | null)[])[],
  corner: (border: number, column: number) => number,
  y: readonly number[],
): string {
  const kind = (i: number, j: number) => {
    const at = step[i]?.[j];
    return at === null || at === undefined ? null : Math.sign(at);
  };
  const differ = (a: number | null, b: number | null) => a !== null && b !== null && a !== b;
  let path = '';
  for (let i = 0; i < step.length; i++)
    for (let j = 0; j < step[i].length; j++) {
      if (differ(kind(i, j), kind(i, j + 1)))
        path += `M${px(corner(i, j + 1))} ${px(y[i])}L${px(corner(i + 1, j + 1))} ${px(y[i + 1])}`;
      if (differ(kind(i, j), kind(i + 1, j)))
        path += `M${px(corner(i + 1, j))} ${px(y[i + 1])}L${px(corner(i + 1, j + 1))} ${px(y[i + 1])}`;
    }
  return path;
}
