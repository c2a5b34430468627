import type { SectionResult } from '../../model/results.ts';
import { INK, LINE_COLOURS } from '../colours.ts';
import { edgeStripGeometry } from './edge-strip-geometry.ts';
import type { MapLimits } from './map-limits.ts';
import { axisBelow, axisLeft, stroke, svgDocument, textAt } from './parts.ts';
import { px } from './path.ts';

/** Deviation of both noses over the normal's angle; '' without a nominal outline. */
export function edgeStripSvg(
  section: SectionResult,
  options: { title: string; limits: MapLimits; width?: number; height?: number },
): string {
  const [width, height] = [options.width ?? 640, options.height ?? 180];
  const margin = { left: 58, top: 24, right: 14, bottom: 44 };
  const geometry = edgeStripGeometry(section, { limitsAt: options.limits.at, width, height, margin });
  if (!geometry) return '';
  const { plot } = geometry;
  const [right, bottom] = [plot.x + plot.width, plot.y + plot.height];
  const lines = geometry.edges
    .map(({ edge, line, lowerLimit, upperLimit }) => {
      const colour = edge === 'leading' ? INK : LINE_COLOURS.second;
      const dash = edge === 'leading' ? '' : '7 3';
      const limits =
        stroke(lowerLimit, LINE_COLOURS.third, 1, '3 3') + stroke(upperLimit, LINE_COLOURS.third, 1, '3 3');
      return `${limits}${stroke(line, colour, 1.5, dash)}`;
    })
    .join('');
  const key =
    stroke(`M${px(right - 236)} 10h22`, INK, 1.5) +
    textAt(right - 210, 14, 'leading edge', { size: 10 }) +
    stroke(`M${px(right - 116)} 10h22`, LINE_COLOURS.second, 1.5, '7 3') +
    textAt(right - 90, 14, 'trailing edge', { size: 10 });
  const body =
    textAt(0, 14, options.title, { size: 12, bold: true }) +
    key +
    axisLeft(geometry.valueTicks, plot.x, right) +
    axisBelow(geometry.angleTicks, bottom, plot.y) +
    stroke(`M${px(plot.x)} ${px(geometry.zero)}H${px(right)}`, INK, 1) +
    lines +
    textAt(14, plot.y + plot.height / 2, 'deviation mm', { anchor: 'middle', size: 10, turn: 90 }) +
    textAt(plot.x, bottom + 32, '◀ suction side', { size: 10 }) +
    textAt((plot.x + right) / 2, bottom + 32, 'degrees of normal angle from the nose · dotted: limits', {
      anchor: 'middle',
      size: 10,
    }) +
    textAt(right, bottom + 32, 'pressure side ▶', { size: 10, anchor: 'end' });
  return svgDocument(
    { width, height, title: options.title, description: 'Deviation of both edges over the angle of the normal.' },
    body,
  );
}
