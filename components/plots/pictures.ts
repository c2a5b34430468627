import type { Plan } from '../../src/model/plan.ts';
import type { Results, SectionResult } from '../../src/model/results.ts';
import { edgeStripSvg } from '../../src/report/svg/edge-strip.ts';
import { edgeStripGeometry } from '../../src/report/svg/edge-strip-geometry.ts';
import type { MapLimits } from '../../src/report/svg/map-limits.ts';
import { outlinePlotSvg } from '../../src/report/svg/outline-plot.ts';
import { sectionPlotSvg } from '../../src/report/svg/section-plot.ts';
import { surfaceMapSvg } from '../../src/report/svg/surface-map.ts';
import type { TrendSeries } from '../../src/report/svg/trend-geometry.ts';
import { trendPanelsSvg } from '../../src/report/svg/trend-panels.ts';
import { aboutNominal } from '../../src/report/svg/trend-series.ts';
import { quantityWord } from '../controls/words.ts';
import { outputName, partName } from '../state/report-answer.ts';
import type { Picture } from './foil-plot-menu.ts';
import type { ShownLimits } from './hub.ts';
import { edgeNumbers, mapNumbers, outlineNumbers, sectionNumbers, trendNumbers } from './plot-numbers.ts';
import type { Strip } from './strip-geometry.ts';
import { stripSvg } from './strip-picture.ts';

/** Makes the pictures of a page: what they show, their file names, and the makers of the report's own drawings. */
export interface Pictures {
  map(scale: 'true' | 'stretched'): Picture;
  section(section: SectionResult, magnification: number): Picture;
  outline(section: SectionResult): Picture;
  edges(section: SectionResult): Picture;
  strip(section: SectionResult, strip: Strip): Picture;
  trends(series: readonly TrendSeries[]): Picture;
}

const EDGE_SIZE = { width: 720, height: 230, margin: { left: 58, top: 24, right: 14, bottom: 44 } };

/**
 * @param plan the plan the results were judged by; names the part
 * @param mark a word every picture carries, such as "Trial"
 */
export function picturesOf(results: Results, plan: Plan | null, shown: ShownLimits, mark = ''): Pictures {
  const limits: MapLimits = { at: shown.at, pairs: shown.pairs, assumed: shown.trial };
  const word = quantityWord(results);
  const named = partName(plan) ?? results.inputs.measured?.[0]?.name ?? 'part not named';
  const part = mark ? `${mark}: ${named}` : named;
  const stem = [outputName(results, plan), ...(mark ? [mark.toLowerCase()] : [])].join('-');
  const of = (section: SectionResult): string => `section ${section.id} at ${section.height.toFixed(2)} mm`;
  const file = (...words: string[]): string => [stem, ...words].join('-').replace(/[^\w.-]+/g, '-');
  return {
    map: (scale) => ({
      view: 'surface map',
      file: file('map'),
      svg: () => surfaceMapSvg(results, { title: `${part}: ${word} map`, limits, scale, width: 900, height: 700 }),
      numbers: () => mapNumbers(results),
    }),
    section: (section, magnification) => ({
      view: of(section),
      file: file('section', section.id),
      svg: () =>
        sectionPlotSvg(section, { title: `${part}: ${of(section)}`, limits, magnification, width: 900, height: 560 }),
      numbers: () => sectionNumbers(section, shown.at, word),
    }),
    outline: (section) => ({
      view: `${word} along the outline, ${of(section)}`,
      file: file('outline', section.id),
      svg: () =>
        outlinePlotSvg(section, {
          title: `${part}: ${word} along the outline, ${of(section)}`,
          limits,
          width: 900,
          height: 260,
        }),
      numbers: () => outlineNumbers(section, word),
    }),
    edges: (section) => ({
      view: `edges, ${of(section)}`,
      file: file('edges', section.id),
      svg: () => edgeStripSvg(section, { title: `${part}: edges, ${of(section)}`, limits, ...EDGE_SIZE }),
      numbers: () => edgeNumbers(edgeStripGeometry(section, { limitsAt: shown.at, ...EDGE_SIZE })!),
    }),
    strip: (section, strip) => ({
      view: `${strip.id}, ${of(section)}`,
      file: file(strip.id, section.id),
      svg: () => stripSvg(strip, `${part}: ${strip.title}, ${of(section)}`),
      numbers: () => strip.numbers,
    }),
    trends: (series) => ({
      view: 'trends over height',
      file: file('trends'),
      svg: () => trendPanelsSvg(series.map(aboutNominal), { title: `${part}: trends over height`, width: 900 }),
      numbers: () => trendNumbers(series),
    }),
  };
}
