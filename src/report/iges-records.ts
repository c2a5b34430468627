import { stepReal } from './step-text.ts';

/** Columns for data in the start, global and terminate sections, and in the parameter section (IGES 5.3, 2.2). */
const WIDE = 72;
const NARROW = 64;

/** A number in the shortest form that reads back equal, with the D that marks double precision. */
export function igesReal(value: number): string {
  const real = stepReal(value);
  return real.includes('E') ? real.replace('E', 'D') : `${real}D0`;
}

/** A string with its count of characters before it; characters outside ASCII become '?'. */
export function igesString(text: string): string {
  const plain = Array.from(text, (c) => (c >= ' ' && c <= '~' ? c : '?')).join('');
  return plain === '' ? '' : `${plain.length}H${plain}`;
}

/** Ends a line of 72 columns with its section's letter and number. */
export function igesLine(text: string, section: 'S' | 'G' | 'D' | 'P' | 'T', number: number): string {
  return `${text.padEnd(WIDE)}${section}${String(number).padStart(7)}`;
}

/** Cuts parameters into pieces of at most `width` columns between parameters; a long string is cut anywhere. */
function pieces(parameters: readonly string[], width: number): string[] {
  const lines: string[] = [];
  let line = '';
  parameters.forEach((parameter, i) => {
    let text = `${parameter}${i + 1 < parameters.length ? ',' : ';'}`;
    if (line.length + text.length > width) {
      if (line !== '') lines.push(line);
      line = '';
    }
    for (; text.length > width; text = text.slice(width)) lines.push(text.slice(0, width));
    line += text;
  });
  lines.push(line);
  return lines;
}

/** Lines of the global section. */
export function globalLines(parameters: readonly string[]): string[] {
  return pieces(parameters, WIDE).map((text, i) => igesLine(text, 'G', i + 1));
}

/** Lines of an entity's parameters, numbered from `first`, with the number of its directory entry. */
export function parameterLines(parameters: readonly string[], entry: number, first: number): string[] {
  return pieces(parameters, NARROW).map((text, i) =>
    igesLine(`${text.padEnd(NARROW)}${String(entry).padStart(8)}`, 'P', first + i),
  );
}
