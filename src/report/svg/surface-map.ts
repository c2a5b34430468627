import { overallVerdict } from '../../judge/overall-verdict.ts';
import type { Results, Verdict } from '../../model/results.ts';
import { INK, LINE_COLOURS, PAPER } from '../colours.ts';
import { percentText } from '../format-number.ts';
import { colourKeyGroup } from './colour-key.ts';
import { type MapLimits, mapCellLimits } from './map-limits.ts';
import {
  axisBelow,
  axisLeft,
  barMark,
  patternDefs,
  stepFill,
  stroke,
  svgDocument,
  textAt,
  verdictMark,
} from './parts.ts';
import { px } from './path.ts';
import { surfaceMapGeometry } from './surface-map-geometry.ts';

export interface SurfaceMapPictureOptions {
  title: string;
  limits: MapLimits;
  scale?: 'true' | 'stretched';
  /** Room for the map itself (px). */
  width?: number;
  height?: number;
  /** Names the patterns; needed when several pictures share a page. */
  prefix?: string;
}

const KEY_HEIGHT = 84;
const MARGIN = { left: 118, top: 54, right: 14, bottom: 62 };
const LEAST_WIDTH = 480;

/** Verdict of each section over its rows of the table. */
export function sectionVerdicts(results: Results): Map<string, Verdict> {
  const verdicts = new Map<string, Verdict>();
  for (const section of results.sections) {
    const rows = (results.characteristics ?? []).filter((row) => row.section === section.id);
    verdicts.set(section.id, overallVerdict(rows.map((row) => row.verdict)));
  }
  return verdicts;
}

/** The surface map as a self-contained picture with title, section marks, key and scale bar; '' without a map. */
export function surfaceMapSvg(results: Results, options: SurfaceMapPictureOptions): string {
  if (!results.map) return '';
  const prefix = options.prefix ?? 'map';
  const verdicts = sectionVerdicts(results);
  const geometry = surfaceMapGeometry(results.map, {
    limits: mapCellLimits(results, options.limits),
    sections: results.sections.map(({ id, height }) => ({ id, height, verdict: verdicts.get(id)! })),
    scale: options.scale ?? 'true',
    width: options.width ?? 540,
    height: options.height ?? 310,
    margin: MARGIN,
  });
  const { plot } = geometry;
  const [right, bottom] = [plot.x + plot.width, plot.y + plot.height];
  const width = Math.max(geometry.width, LEAST_WIDTH);
  const middle = geometry.x(0, results.map.heights[0]);
  const fills = geometry.steps.map(({ step, path }) => stepFill(step, path, prefix)).join('');
  const gaps = geometry.notMeasured
    ? `<path d="${geometry.notMeasured}" fill="${PAPER}"/><path d="${geometry.notMeasured}" fill="url(#${prefix}-dots)"/>`
    : '';
  const marks = geometry.sections
    .map(({ id, y, verdict }) => {
      const line = stroke(`M${px(plot.x)} ${px(y)}H${px(right)}`, INK, 0.5, '1 3');
      return `${line}${verdictMark(verdict, plot.x - 44, y, 5)}${textAt(plot.x - 54, y + 3.5, `Section ${id}`, { anchor: 'end', size: 10 })}`;
    })
    .join('');
  const heads =
    textAt(plot.x, plot.y - 22, '◀ suction side', { size: 10 }) +
    textAt(right, plot.y - 22, 'pressure side ▶', { size: 10, anchor: 'end' }) +
    textAt(plot.x, plot.y - 8, 'trailing edge', { size: 10 }) +
    textAt(middle, plot.y - 8, 'leading edge', { size: 10, anchor: 'middle', bold: true }) +
    textAt(right, plot.y - 8, 'trailing edge', { size: 10, anchor: 'end' });
  const scaleWords = geometry.scale === 'true' ? 'true length' : 'stretched to full width, rows not to scale';
  const body =
    patternDefs(prefix) +
    textAt(0, 14, options.title, { size: 13, bold: true }) +
    heads +
    fills +
    gaps +
    stroke(geometry.limitLine, INK, 1.1) +
    stroke(geometry.outline, INK, 1) +
    stroke(geometry.leadingEdge, INK, 0.8, '6 2 1 2') +
    marks +
    axisLeft(geometry.heightTicks, plot.x) +
    axisBelow(geometry.alongTicks, bottom) +
    textAt(plot.x - 30, plot.y - 8, 'height mm', { anchor: 'end', size: 10 }) +
    textAt(right, bottom + 30, 'mm along the outline from the leading edge', { anchor: 'end', size: 10 }) +
    barMark({ ...geometry.bar, y: bottom + 48 }) +
    textAt(right, bottom + 48, scaleWords, { anchor: 'end', size: 10, colour: LINE_COLOURS.muted }) +
    colourKeyGroup(
      { width: width - 8, limits: options.limits.pairs, assumed: options.limits.assumed },
      4,
      geometry.height + 4,
      prefix,
    );
  const share = results.deviation ? percentText(results.deviation.coverage) : '';
  return svgDocument(
    {
      width,
      height: geometry.height + KEY_HEIGHT,
      title: options.title,
      description: `Deviation over the surface in steps beyond the limits. ${share} measured.`,
    },
    body,
  );
}
