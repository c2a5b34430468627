import type { LimitsAt } from '../../src/judge/map-places.ts';
import type { Results, SectionResult } from '../../src/model/results.ts';
import type { EdgeTrace } from '../../src/redefine.ts';
import { unitText } from '../../src/report/format-number.ts';
import type { EdgeStripGeometry } from '../../src/report/svg/edge-strip-geometry.ts';
import { outlineSamples } from '../../src/report/svg/plot-samples.ts';
import type { TrendSeries } from '../../src/report/svg/trend-geometry.ts';
import { quantityWord } from '../controls/words.ts';

/** What a plot draws, as a table: heads with units, numbers with fixed decimals a column. */
export interface Numbers {
  heads: string[];
  decimals: number[];
  rows: (number | null)[][];
}

/**
 * Values and U along the outline of a section.
 * @param word what the values are
 */
export function outlineNumbers(section: SectionResult, word = 'deviation'): Numbers {
  const { along, deviation, u } = section.plot ?? { along: [], deviation: [], u: [] };
  return {
    heads: ['along, mm', `${word}, mm`, 'U (k = 2), mm'],
    decimals: [3, 4, 4],
    rows: along.map((at, i) => [at, deviation[i], u[i] === null ? null : 2 * u[i]!]),
  };
}

/** Nominal outline of a section in its own plane, with the value at each of its points. */
export function sectionNumbers(section: SectionResult, limitsAt: LimitsAt, word = 'deviation'): Numbers {
  const samples = outlineSamples(section, limitsAt);
  return {
    heads: ['along, mm', 'nominal x, mm', 'nominal y, mm', `${word}, mm`],
    decimals: [3, 4, 4, 4],
    rows: samples ? samples.along.map((at, i) => [at, samples.x[i], samples.y[i], samples.deviation[i]]) : [],
  };
}

/** Every cell of the map, from the tip down. */
export function mapNumbers({ map, stock }: Pick<Results, 'map' | 'stock'>): Numbers {
  const order = (map?.heights ?? []).map((_, i) => i).reverse();
  return {
    heads: ['height, mm', 'along, mm', `${quantityWord({ stock })}, mm`, 'U (k = 2), mm'],
    decimals: [2, 3, 4, 4],
    rows: order.flatMap((i) =>
      map!.along[i].map((at, j) => {
        const u = map!.u[i][j];
        return [map!.heights[i], at, map!.deviation[i][j], u === null ? null : 2 * u];
      }),
    ),
  };
}

/** Values of every trend at every section, from the tip down. */
export function trendNumbers(series: readonly TrendSeries[]): Numbers {
  const heights = series[0]?.heights ?? [];
  const order = heights.map((_, i) => i).reverse();
  return {
    heads: ['height, mm', ...series.map((s) => `${s.name}, ${unitText(s.unit)}`)],
    decimals: [2, ...series.map((s) => (s.unit === 'deg' ? 3 : 4))],
    rows: order.map((i) => [heights[i], ...series.map((s) => s.value[i])]),
  };
}

/** Deviation of both edges over the normal's angle, one row a point. */
export function edgeNumbers(geometry: EdgeStripGeometry): Numbers {
  const [leading, trailing] = geometry.edges;
  return {
    heads: ['LE normal, °', 'LE deviation, mm', 'TE normal, °', 'TE deviation, mm'],
    decimals: [1, 4, 1, 4],
    rows: Array.from({ length: Math.max(leading.angleDeg.length, trailing.angleDeg.length) }, (_, i) => [
      leading.angleDeg[i] ?? null,
      leading.deviation[i] ?? null,
      trailing.angleDeg[i] ?? null,
      trailing.deviation[i] ?? null,
    ]),
  };
}

/** Points round one edge with their distance from the fitted curve. */
export function edgeTraceNumbers({ angleDeg, residual, x, y }: EdgeTrace): Numbers {
  return {
    heads: ['normal, °', 'residual, mm', 'x, mm', 'y, mm'],
    decimals: [1, 4, 4, 4],
    rows: angleDeg.map((at, i) => [at, residual[i], x[i], y[i]]),
  };
}

/** Tab-separated text with heads; ASCII minus, a decimal point, nothing for what is not measured. */
export function numbersText({ heads, decimals, rows }: Numbers): string {
  const line = (row: (number | null)[]): string =>
    row.map((value, k) => (value === null ? '' : value.toFixed(decimals[k]))).join('\t');
  return [heads.join('\t'), ...rows.map(line)].join('\n');
}
