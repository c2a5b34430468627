import { formatFixed, type NumberStyle, formatNumber as reportNumber } from '../../src/report/format-number.ts';

/** Numbers on screen: those of the report, with the decimal mark of the user's choice. */

export type DecimalMark = '.' | ',';

const MINUS = '−';
const NOTHING = '–';

const marked = (text: string, mark: DecimalMark): string => (mark === ',' ? text.replace('.', ',') : text);

/** Text of a result as the report writes it: decimals from its limits and uncertainty; the dash for null. */
export function showResult(value: number | null | undefined, style: NumberStyle, mark: DecimalMark): string {
  return marked(reportNumber(value ?? null, style), mark);
}

/** Text of a number with fixed decimals; the dash for null. */
export function formatNumber(
  value: number | null | undefined,
  decimals: number,
  mark: DecimalMark = '.',
  signed = false,
): string {
  if (value === null || value === undefined || !Number.isFinite(value)) return NOTHING;
  return marked(formatFixed(value, decimals, { signed }), mark);
}

/** 1 536 → "1.5 kB". Powers of 1000. */
export function formatBytes(bytes: number, mark: DecimalMark = '.'): string {
  const units = ['B', 'kB', 'MB', 'GB'];
  let at = 0;
  while (bytes >= 999.5 && at < units.length - 1) {
    bytes /= 1000;
    at++;
  }
  return `${formatNumber(bytes, at === 0 || bytes >= 99.5 ? 0 : 1, mark)} ${units[at]}`;
}

/** Whole counts in words people read: "8.1 million", "52 300". */
export function formatCount(count: number, mark: DecimalMark = '.'): string {
  if (count >= 1e6) return `${formatNumber(count / 1e6, 1, mark)} million`;
  return count >= 1e4 ? `${Math.floor(count / 1000)} ${String(count % 1000).padStart(3, '0')}` : String(count);
}

/** Seconds as "0.8 s", "12 s", "2 min 05 s". */
export function formatSeconds(seconds: number, mark: DecimalMark = '.'): string {
  if (seconds < 10) return `${formatNumber(seconds, 1, mark)} s`;
  if (seconds < 100) return `${Math.round(seconds)} s`;
  return `${Math.floor(seconds / 60)} min ${String(Math.round(seconds % 60)).padStart(2, '0')} s`;
}

/** Number typed by a person: point or comma as decimal mark, true minus allowed; null when it is not one number. */
export function parseNumber(text: string): number | null {
  const plain = text.trim().replace(MINUS, '-').replace(',', '.');
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : null;
}
