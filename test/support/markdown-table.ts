/** A table in Markdown, columns padded to equal width as the formatter has them. */
export function markdownTable(head: string[], rows: string[][]): string {
  const lines = [head, ...rows];
  const widths = head.map((_, c) => Math.max(3, ...lines.map((cells) => cells[c].length)));
  const line = (cells: string[]) => `| ${cells.map((cell, c) => cell.padEnd(widths[c])).join(' | ')} |`;
  const rule = `| ${widths.map((width) => '-'.repeat(width)).join(' | ')} |`;
  return [line(head), rule, ...rows.map(line)].join('\n');
}
