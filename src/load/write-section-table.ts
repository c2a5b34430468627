import type { SectionTable } from '../model/shape.ts';

export interface WriteSectionTableOptions {
  /** Adds the comment `# units: mm` above the header. */
  stateUnit?: boolean;
}

function field(text: string): string {
  return /^[#%/]|[",;\s]/.test(text) ? `"${text.replaceAll('"', "'")}"` : text;
}

/** Returns sections as CSV with the columns section, z, x, y (mm); numbers in the shortest form that reads back equal. */
export function writeSectionTable(table: SectionTable, options: WriteSectionTableOptions = {}): string {
  const lines = options.stateUnit ? ['# units: mm', 'section,z,x,y'] : ['section,z,x,y'];
  for (const { id, height, points } of table.sections) {
    const start = `${field(id)},${height}`;
    for (let i = 0; i < points.length; i += 2) lines.push(`${start},${points[i]},${points[i + 1]}`);
  }
  return `${lines.join('\n')}\n`;
}
