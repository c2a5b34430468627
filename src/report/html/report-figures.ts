import type { Results } from '../../model/results.ts';
import { edgeStripSvg } from '../svg/edge-strip.ts';
import { mapLimits } from '../svg/map-limits.ts';
import { outlinePlotSvg } from '../svg/outline-plot.ts';
import { sectionPlotSvg } from '../svg/section-plot.ts';
import { surfaceMapSvg } from '../svg/surface-map.ts';
import { trendPanelsSvg } from '../svg/trend-panels.ts';
import { aboutNominal, trendSeries } from '../svg/trend-series.ts';
import { figureHtml, type Html, text } from './html-parts.ts';

const WIDTH = 672;

/** The map as a figure. */
export function mapFigure(results: Results): Html {
  const limits = mapLimits(results);
  const title = results.stock ? 'Stock map' : 'Deviation map';
  return figureHtml(surfaceMapSvg(results, { title, limits, prefix: 'map', width: 540, height: 540 }));
}

/** Each section: outline with magnified gap, deviation along the outline, both edges. */
export function sectionFigures(results: Results): Html {
  const limits = mapLimits(results);
  return results.sections
    .map((section, i) => {
      const place = section.cut ? `, ${section.cut.text}, developed` : ` at ${section.height.toFixed(2)} mm`;
      const at = `Section ${section.id}${place}`;
      const shape = sectionPlotSvg(section, { title: at, limits, width: WIDTH, height: 400, prefix: `s${i}` });
      const along = outlinePlotSvg(section, {
        title: `${at}: ${results.stock ? 'stock' : 'deviation'} along the outline`,
        limits,
        width: WIDTH,
        prefix: `o${i}`,
      });
      const edges = edgeStripSvg(section, { title: `${at}: edges`, limits, width: WIDTH });
      if (shape + along + edges === '') return `<p>${text(at)}: no outline to draw.</p>`;
      return `<div class="keep">${figureHtml(shape)}${figureHtml(along)}${figureHtml(edges)}</div>`;
    })
    .join('');
}

/** Judged quantities over the span; those with limits as deviation from nominal. */
export function trendFigures(results: Results): Html {
  const series = trendSeries(results);
  const limited = series.filter((one) => [...one.lower, ...one.upper].some((limit) => limit !== null));
  const shown = (limited.length ? limited : series).map(aboutNominal);
  return figureHtml(trendPanelsSvg(shown, { title: 'Characteristics by height', width: WIDTH }));
}
