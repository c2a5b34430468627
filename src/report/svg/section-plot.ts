import type { SectionResult } from '../../model/results.ts';
import { INK, LINE_COLOURS } from '../colours.ts';
import type { MapLimits } from './map-limits.ts';
import { barMark, patternDefs, stepFill, stroke, svgDocument, textAt } from './parts.ts';
import { px } from './path.ts';
import { sectionPlotGeometry } from './section-plot-geometry.ts';

export interface SectionPictureOptions {
  title: string;
  limits: MapLimits;
  magnification?: number;
  width?: number;
  height?: number;
  prefix?: string;
}

/** Key of the lines, written left to right. */
function lineKey(x: number, y: number, items: readonly (readonly [string, string])[]): string {
  return items
    .map(
      ([name, line], i) =>
        `<g transform="translate(${px(x + 118 * i)} ${px(y)})">${line}${textAt(26, 3.5, name, { size: 10 })}</g>`,
    )
    .join('');
}

/** One section at equal scale, its gap to nominal magnified; '' without a nominal outline. */
export function sectionPlotSvg(section: SectionResult, options: SectionPictureOptions): string {
  const prefix = options.prefix ?? 'section';
  const [width, height] = [options.width ?? 640, options.height ?? 300];
  const geometry = sectionPlotGeometry(section, {
    limitsAt: options.limits.at,
    width,
    height: height - 40,
    ...(options.magnification === undefined ? {} : { magnification: options.magnification }),
  });
  if (!geometry) return '';
  const factor = geometry.magnification === 1 ? 'true scale' : `deviation and limits ×${geometry.magnification}`;
  const limitName = options.limits.assumed ? 'display limits' : 'limits';
  const sample = (colour: string, wide: number, dash = '') => stroke('M0 0H20', colour, wide, dash);
  const body =
    patternDefs(prefix) +
    textAt(0, 14, options.title, { size: 13, bold: true }) +
    textAt(width, 14, factor, { size: 11, anchor: 'end', bold: true }) +
    (geometry.folded
      ? textAt(width, 28, 'where missing material ×N exceeds an edge’s radius it is drawn in the edge plot only', {
          anchor: 'end',
          size: 9.5,
        })
      : '') +
    `<g transform="translate(0 22)">` +
    geometry.band.map(({ step, path }) => stepFill(step, path, prefix)).join('') +
    stroke(geometry.lowerLimit, LINE_COLOURS.third, 0.9, '5 3') +
    stroke(geometry.upperLimit, LINE_COLOURS.third, 0.9, '5 3') +
    stroke(geometry.nominal, LINE_COLOURS.muted, 0.8) +
    stroke(geometry.notMeasured, LINE_COLOURS.muted, 3, '1 3') +
    stroke(geometry.measured, INK, 1.4) +
    stroke(geometry.camber, LINE_COLOURS.muted, 0.6, '8 2 2 2') +
    textAt(geometry.leading.x - 8, geometry.leading.y + 4, 'LE', { anchor: 'end', size: 10, bold: true }) +
    textAt(geometry.trailing.x + 8, geometry.trailing.y + 4, 'TE', { size: 10, bold: true }) +
    barMark(geometry.shapeBar) +
    barMark(geometry.deviationBar, 'end') +
    '</g>' +
    lineKey(0, height - 8, [
      ['nominal', sample(LINE_COLOURS.muted, 0.8)],
      ['measured', sample(INK, 1.4)],
      [limitName, sample(LINE_COLOURS.third, 0.9, '5 3')],
      ['not measured', sample(LINE_COLOURS.muted, 3, '1 3')],
      ['camber line', sample(LINE_COLOURS.muted, 0.6, '8 2 2 2')],
    ]);
  return svgDocument(
    { width, height, title: options.title, description: `Nominal and measured outline at equal scale, ${factor}.` },
    body,
  );
}
