import { cellBorders, type PlaceLimits } from '../../src/judge/map-places.ts';
import type { DeviationMap } from '../../src/model/results.ts';
import { type Step, stepOf } from '../../src/report/colours.ts';
import { px } from '../../src/report/svg/path.ts';

export type Edge = 'leading' | 'trailing';

/** One edge drawn wide: the same heights as the map, the distance from the edge magnified. */
export interface EdgeCells {
  steps: { step: Step; path: string }[];
  notMeasured: string;
  /** Distance shown to each side of the edge (mm). */
  reach: number;
  /** Picture x of a position along; null when it lies outside the strip. */
  x(along: number, row: number): number | null;
  /** Position along at a picture x in a map row. */
  along(x: number, row: number): number;
}

export interface EdgeCellsOptions {
  edge: Edge;
  limits: readonly (readonly PlaceLimits[])[];
  /** Picture place of a height (px). */
  y(height: number): number;
  left: number;
  width: number;
  pxPerMm: number;
}

/**
 * Cells of the map near one edge. Leading edge: suction side left. Trailing edge: the map's two borders joined, pressure
 * side left, so that neighbours on the part are neighbours in the picture.
 */
export function edgeCells(map: DeviationMap, options: EdgeCellsOptions): EdgeCells {
  const { edge, left, width, pxPerMm } = options;
  const middle = left + width / 2;
  const reach = width / 2 / pxPerMm;
  const up = cellBorders(map.heights).map(options.y);
  const borders = map.along.map((row) => cellBorders(row));
  const offset = (at: number, row: number): number => {
    if (edge === 'leading') return at;
    const b = borders[row];
    return at > 0 ? at - b[b.length - 1] : at - b[0];
  };
  const paths = new Map<Step | null, string>();
  for (let i = 0; i < map.heights.length; i++) {
    const b = borders[i];
    const column = (at: number, upperHalf: boolean): number => {
      const d = edge === 'leading' ? at : upperHalf ? at - b[b.length - 1] : at - b[0];
      return middle + Math.max(-reach, Math.min(reach, d)) * pxPerMm;
    };
    for (let j = 0; j < map.along[i].length; j++) {
      const onPressure = map.along[i][j] > 0;
      const [x1, x2] = [column(b[j], onPressure), column(b[j + 1], onPressure)];
      if (x2 - x1 < 1e-6) continue;
      const d = map.deviation[i][j];
      const { lower, upper } = options.limits[i][j];
      const step = d === null ? null : stepOf(d, lower, upper);
      const quad = `M${px(x1)} ${px(up[i])}H${px(x2)}V${px(up[i + 1])}H${px(x1)}Z`;
      paths.set(step, (paths.get(step) ?? '') + quad);
    }
  }
  return {
    steps: [...paths]
      .filter((entry): entry is [Step, string] => entry[0] !== null)
      .map(([step, path]) => ({ step, path })),
    notMeasured: paths.get(null) ?? '',
    reach,
    x(at, row) {
      const d = offset(at, row);
      return Math.abs(d) > reach ? null : middle + d * pxPerMm;
    },
    along(x, row) {
      const d = (x - middle) / pxPerMm;
      if (edge === 'leading') return d;
      const b = borders[row];
      return d <= 0 ? b[b.length - 1] + d : b[0] + d;
    },
  };
}
