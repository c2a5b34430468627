import { INK, LINE_COLOURS } from '../../src/report/colours.ts';
import { axisBelow, axisLeft, stroke, svgDocument, textAt } from '../../src/report/svg/parts.ts';
import { px } from '../../src/report/svg/path.ts';
import { type Strip, stripGeometry } from './strip-geometry.ts';

const ROOM = { width: 900, height: 240, margin: { left: 58, top: 34, right: 14, bottom: 44 } };

/** A strip as a picture of its own: light, with title, axes and key. */
export function stripSvg(strip: Strip, title: string): string {
  const g = stripGeometry(strip, ROOM);
  const { plot } = g;
  const [right, bottom] = [plot.x + plot.width, plot.y + plot.height];
  const key = [
    'solid: measured',
    ...(g.nominal ? ['dashed: nominal'] : []),
    ...(g.band ? ['grey band: ±U (k = 2)'] : []),
  ].join(' · ');
  const body =
    textAt(0, 14, title, { size: 12, bold: true }) +
    axisLeft(g.valueTicks, plot.x, right) +
    axisBelow(g.acrossTicks, bottom) +
    (g.band ? `<path d="${g.band}" fill="${INK}" fill-opacity="0.22"/>` : '') +
    (g.zero === null ? '' : stroke(`M${px(plot.x)} ${px(g.zero)}H${px(right)}`, INK, 0.8)) +
    stroke(g.nominal, LINE_COLOURS.second, 1.2, '7 3') +
    stroke(g.line, INK, 1.3) +
    textAt(plot.x, bottom + 32, strip.across, { size: 10 }) +
    textAt(right, bottom + 32, key, { anchor: 'end', size: 10 });
  return svgDocument({ width: ROOM.width, height: ROOM.height, title, description: strip.title }, body);
}
