import { INK, LINE_COLOURS, PAPER } from '../colours.ts';
import { type ColourKeyOptions, colourKeyGeometry } from './colour-key-geometry.ts';
import { stepFill, stroke, textAt } from './parts.ts';
import { px } from './path.ts';

/** The colour key as a group with its upper left corner at (x, y); patterns of `prefix` must be defined around it. */
export function colourKeyGroup(options: ColourKeyOptions, x: number, y: number, prefix: string): string {
  const key = colourKeyGeometry(options);
  const cells = key.cells.map((cell) => {
    const box = `M${px(cell.x)} ${key.cellY}h${px(cell.width)}v${key.cellHeight}h${px(-cell.width)}Z`;
    const fill =
      cell.step === 'not-measured'
        ? `<path d="${box}" fill="${PAPER}"/><path d="${box}" fill="url(#${prefix}-dots)" stroke="${LINE_COLOURS.muted}" stroke-width="0.8"/>`
        : `${stepFill(cell.step, box, prefix)}${stroke(box, INK, 0.6)}`;
    const middle = cell.x + cell.width / 2;
    const words = textAt(middle, key.cellY + key.cellHeight + 12, cell.text, { anchor: 'middle', size: 9 });
    const head = cell.head ? textAt(cell.x, key.cellY - 4, cell.head, { size: 9.5, bold: true }) : '';
    return `${fill}${words}${head}`;
  });
  const title = textAt(0, 10, key.title, { size: 9.5 }) + textAt(0, 22, key.note, { size: 9.5 });
  return `<g transform="translate(${px(x)} ${px(y)})">${title}${cells.join('')}</g>`;
}
