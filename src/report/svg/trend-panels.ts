import { INK, LINE_COLOURS } from '../colours.ts';
import { unitText } from '../format-number.ts';
import { axisBelow, axisLeft, stroke, svgDocument, textAt, verdictMark } from './parts.ts';
import { px } from './path.ts';
import { type TrendPanelGeometry, type TrendSeries, trendPanelGeometry } from './trend-geometry.ts';

const PANEL = { width: 154, height: 250 };
const AXIS = 46;

/** One panel as a group, its heights not labelled. */
function panelGroup(series: TrendSeries, geometry: TrendPanelGeometry): string {
  const { plot } = geometry;
  const [right, bottom] = [plot.x + plot.width, plot.y + plot.height];
  const box = `M${px(plot.x)} ${px(plot.y)}H${px(right)}V${px(bottom)}H${px(plot.x)}Z`;
  const points = geometry.points
    .map(({ x, y, verdict, low, high }) => {
      const bar = `M${px(low)} ${px(y)}H${px(high)}M${px(low)} ${px(y - 3)}v6M${px(high)} ${px(y - 3)}v6`;
      return `${stroke(bar, INK, 1)}${verdictMark(verdict, x, y, 4)}`;
    })
    .join('');
  const missing = geometry.missing
    .map(
      ({ y }) =>
        `${verdictMark('not-measured', plot.x + 8, y, 4)}${textAt(plot.x + 15, y + 3, 'not measured', { size: 8 })}`,
    )
    .join('');
  const lines = [
    ...wrapped(series.name, 25).slice(0, 2),
    `${series.aboutNominal ? 'deviation ' : ''}${unitText(series.unit) || 'ratio'}`,
  ];
  return (
    lines
      .map((line, i) => textAt(plot.x, plot.y - 29 + 12 * i, line, { size: 9.5, bold: i < lines.length - 1 }))
      .join('') +
    stroke(box, LINE_COLOURS.grid, 1) +
    axisBelow(geometry.valueTicks, bottom) +
    stroke(geometry.nominal, LINE_COLOURS.muted, 0.9) +
    stroke(geometry.lowerLimit, LINE_COLOURS.third, 1.2, '5 3') +
    stroke(geometry.upperLimit, LINE_COLOURS.third, 1.2, '5 3') +
    stroke(geometry.line, INK, 1.2) +
    points +
    missing
  );
}

/** Words of a name in lines of at most `room` letters. */
function wrapped(name: string, room: number): string[] {
  const lines: string[] = [];
  for (const word of name.split(' ')) {
    const last = lines[lines.length - 1];
    if (last !== undefined && last.length + 1 + word.length <= room) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

/** Panels side by side over one height axis; wraps to the width. '' for no series. */
export function trendPanelsSvg(
  series: readonly TrendSeries[],
  options: { title: string; width?: number; heightDomain?: readonly [number, number] },
): string {
  if (series.length === 0) return '';
  const width = options.width ?? 680;
  const perRow = Math.max(1, Math.floor((width - AXIS) / PANEL.width));
  const heights = series.flatMap((one) => one.heights);
  const [low, high] = [Math.min(...heights), Math.max(...heights)];
  const domain = options.heightDomain ?? [low - 0.05 * (high - low), high + 0.05 * (high - low)];
  const margin = { left: 8, top: 46, right: 12, bottom: 24 };
  const top = 22;
  const groups = series.map((one, i) => {
    const geometry = trendPanelGeometry(one, { heightDomain: domain, ...PANEL, margin });
    const [row, column] = [Math.floor(i / perRow), i % perRow];
    const axis =
      column === 0
        ? `<g transform="translate(${AXIS} ${top + row * PANEL.height})">${axisLeft(geometry.heightTicks, margin.left)}${textAt(-36, PANEL.height / 2, 'height mm', { anchor: 'middle', size: 10, turn: 90 })}</g>`
        : '';
    const at = `translate(${px(AXIS + column * PANEL.width)} ${px(top + row * PANEL.height)})`;
    return `${axis}<g transform="${at}">${panelGroup(one, geometry)}</g>`;
  });
  const rows = Math.ceil(series.length / perRow);
  const height = top + rows * PANEL.height + 14;
  const note = textAt(AXIS, height - 3, 'bars: ±U (k = 2) · dashed: limits · thin line: nominal', { size: 10 });
  return svgDocument(
    { width, height, title: options.title, description: 'Characteristics over the span with limits and uncertainty.' },
    `${textAt(0, 14, options.title, { size: 13, bold: true })}${groups.join('')}${note}`,
  );
}
