import { type FormatInput, loadError } from './format.ts';
import { isUnitWord, noteUnitWord, type UnitNote } from './units.ts';

/** Which column holds what; −1 when no column does. */
export interface Columns {
  id: number;
  /** Height, or z of a point. */
  z: number;
  x: number;
  y: number;
  normal: [number, number, number] | null;
  /** Name of the pass a row belongs to; −1 when no column says. */
  pass: number;
  /** True when the header calls the third coordinate a height. */
  namesHeight: boolean;
  /** Columns that are not read. */
  extra: string[];
}

const ID = /^(section|sectionid|sectionname|sectionnumber|sec|id|profile)$/;

/** Cuts a header cell such as `x [mm]`, `z_in` or `height (mm)` into name and unit word. */
function nameAndUnit(cell: string): { name: string; unit: string | null } {
  const text = cell.trim();
  const bracket = /^(.*?)[\s_]*[[({<]\s*([^\])}>]*?)\s*[\])}>]$/.exec(text);
  const suffix = /^(.+?)[\s_./-]+([a-zµμ]+)$/i.exec(text);
  const cut = bracket ?? (suffix !== null && isUnitWord(suffix[2]) ? suffix : null);
  const name = (cut?.[1] ?? text).toLowerCase().replace(/[^a-z0-9]/g, '');
  return { name, unit: cut?.[2] ?? null };
}

/** Joins a unit in brackets that was cut off its name by blanks. */
export function joinUnits(cells: string[]): string[] {
  const joined: string[] = [];
  for (const cell of cells) {
    if (/^[[({<].*[\])}>]$/.test(cell) && joined.length > 0) joined[joined.length - 1] += ` ${cell}`;
    else joined.push(cell);
  }
  return joined;
}

/**
 * Returns the columns a header names and takes down their unit; null when x, y or the height is not among them.
 *
 * @throws `load/unit-unknown`, `load/unit-conflict`
 */
export function headerColumns(input: FormatInput, cells: string[], note: UnitNote, line: number): Columns | null {
  const parts = cells.map(nameAndUnit);
  const find = (...names: string[]): number => parts.findIndex(({ name }) => names.includes(name));
  const height = find('height');
  const columns: Columns = {
    id: parts.findIndex(({ name }) => ID.test(name)),
    z: height >= 0 ? height : find('z'),
    x: find('x'),
    y: find('y'),
    normal: null,
    pass: find('pass', 'direction', 'run'),
    namesHeight: height >= 0,
    extra: [],
  };
  if (columns.x < 0 || columns.y < 0 || columns.z < 0) return null;
  const letters = ['i', 'j', 'k'];
  const normal = ['x', 'y', 'z'].map((axis, k) => find(`n${axis}`, `normal${axis}`, letters[k], `approach${axis}`));
  if (!normal.includes(-1)) columns.normal = [normal[0], normal[1], normal[2]];
  for (const at of [columns.x, columns.y, columns.z]) {
    const { unit } = parts[at];
    if (unit !== null) noteUnitWord(input, note, unit, `line ${line}`);
  }
  const used = [columns.id, columns.pass, columns.x, columns.y, columns.z, ...(columns.normal ?? [])];
  columns.extra = cells.filter((_, i) => !used.includes(i));
  return columns;
}

/** Returns the error for a header whose names are not understood. */
export function unknownHeader(input: FormatInput, cells: string[], line: number): Error {
  const message = `The header names the columns ${cells
    .map((cell) => `"${cell}"`)
    .join(', ')
    .slice(0, 120)}.`;
  const remedy = 'Name the columns section, z, x, y for a section table, or x, y, z for points.';
  return loadError(input, 'load/format-unknown', message, `line ${line}`, remedy);
}
