import { table } from '../bench/rounds.ts';
import { binomialBounds, WITHIN_TWO } from './binomial-bounds.ts';
import type { RowStatistics } from './row-statistics.ts';

/** Ratio to the reference figures and share of the spread from which a cell is marked. */
export const MUCH_ABOVE = 1.25;
export const MUCH_BIAS = 1 / 3;
const BOUNDS = 0.999;

/** One row of a section at one noise, held against what is known of it. */
export interface Cell {
  section: string;
  noise: number;
  row: string;
  found: RowStatistics;
  /** Median and 95 % |error| of the reference figures, null where they have no such row. */
  reference: readonly number[] | null;
  /** Least spread an unbiased estimate can have, null where the model is not known. */
  limit: number | null;
  /** Counts between which the covered readings lie 999 times in a thousand when u is right. */
  bounds: [number, number];
}

/** What is said of all cells together. */
export interface Totals {
  /** Geometric mean of the ratios of medians and 95 % figures to the reference figures; null without any. */
  ratio: number | null;
  cells: number;
  /** Cells of median and 95 % figure, and those much above their reference figure. */
  compared: number;
  above: string[];
  /** Readings with a u, and the share of them whose ± 2 u holds the truth. */
  known: number;
  covered: number;
  outOfBounds: string[];
  biased: string[];
}

export function cellOf(
  place: Pick<Cell, 'section' | 'noise' | 'row'>,
  found: RowStatistics,
  reference: readonly number[] | null,
  limit: number | null,
): Cell {
  return { ...place, found, reference, limit, bounds: binomialBounds(found.known, WITHIN_TWO, BOUNDS) };
}

export function totalsOf(cells: readonly Cell[]): Totals {
  const ratios = cells.flatMap((cell) => ratiosOf(cell).map((ratio) => ({ cell, ratio })));
  const known = cells.reduce((sum, { found }) => sum + found.known, 0);
  const within = cells.reduce((sum, { found }) => sum + coveredCount(found), 0);
  const names = (list: readonly Cell[]) => list.map(nameOf);
  return {
    ratio:
      ratios.length > 0 ? Math.exp(ratios.reduce((sum, { ratio }) => sum + Math.log(ratio), 0) / ratios.length) : null,
    cells: cells.length,
    compared: ratios.length,
    above: names(ratios.filter(({ ratio }) => ratio > MUCH_ABOVE).map(({ cell }) => cell)),
    known,
    covered: known > 0 ? within / known : Number.NaN,
    outOfBounds: names(cells.filter(isOutOfBounds)),
    biased: names(cells.filter(isBiased)),
  };
}

const HEAD = 'row,bias,spread,median,95 %,/ref,/ref 95,/limit,z,±2u,bounds,n,marks'.split(',');

/**
 * Returns the table of one section at one noise. Marks: A above the reference figures, C coverage out of its bounds,
 * B bias above a third of the spread.
 */
export function tableOf(cells: readonly Cell[]): string {
  const rows = cells.map((cell) => {
    const { found, limit, bounds } = cell;
    const [median, p95] = ratiosOf(cell);
    const percent = (count: number) => ((100 * count) / found.known).toFixed(1);
    return [
      cell.row,
      found.bias.toFixed(2),
      found.spread.toFixed(2),
      found.median.toFixed(2),
      found.p95.toFixed(2),
      median?.toFixed(2) ?? '',
      p95?.toFixed(2) ?? '',
      limit === null ? '' : (found.spread / limit).toFixed(2),
      found.z?.toFixed(2) ?? '',
      found.known > 0 ? percent(coveredCount(found)) : '',
      found.known > 0 ? `${percent(bounds[0])}-${percent(bounds[1])}` : '',
      String(found.count),
      marksOf(cell),
    ];
  });
  return table([HEAD, ...rows]);
}

export function totalLines(totals: Totals): string[] {
  const list = (names: readonly string[]) => (names.length > 0 ? `: ${names.join(', ')}` : '');
  return [
    totals.ratio === null ? '' : `geometric mean of the ratios to the reference figures: ${totals.ratio.toFixed(3)}`,
    totals.compared === 0
      ? ''
      : `figures above ${MUCH_ABOVE} times theirs: ${totals.above.length} of ${totals.compared}${list(totals.above)}`,
    `coverage of ±2u over all rows: ${(100 * totals.covered).toFixed(2)} % of ${totals.known}`,
    `rows with coverage out of bounds: ${totals.outOfBounds.length} of ${totals.cells}${list(totals.outOfBounds)}`,
    `rows with bias above a third of the spread: ${totals.biased.length} of ${totals.cells}${list(totals.biased)}`,
  ].filter((line) => line !== '');
}

export const nameOf = ({ section, noise, row }: Cell): string => `${section} ${1000 * noise} ${row}`;

function ratiosOf({ found, reference }: Cell): number[] {
  return reference ? [found.median / reference[0], found.p95 / reference[1]] : [];
}

function coveredCount({ covered, known }: RowStatistics): number {
  return Math.round((covered ?? 0) * known);
}

function isOutOfBounds({ found, bounds }: Cell): boolean {
  const count = coveredCount(found);
  return found.known > 0 && (count < bounds[0] || count > bounds[1]);
}

function isBiased({ found }: Cell): boolean {
  return Math.abs(found.bias) > MUCH_BIAS * found.spread;
}

function marksOf(cell: Cell): string {
  const above = ratiosOf(cell).some((ratio) => ratio > MUCH_ABOVE);
  return `${above ? 'A' : ''}${isOutOfBounds(cell) ? 'C' : ''}${isBiased(cell) ? 'B' : ''}`;
}
