import { shareText } from '../judge/share-text.ts';

/** Share (0 … 1) as per cent with one decimal, cut, not rounded: what is not quite all never reads 100.0 %. */
export const percentText = shareText;

/** Unit-wise least number of decimals: 0.001 mm, 0.01 degree. */
const DEFAULT_DECIMALS: Record<string, number> = { mm: 3, deg: 2, mm2: 2, mm4: 2, '1': 3, '%': 1 };

/** A limit of more decimals than anyone writes was computed from a nominal value and does not call for more. */
const WRITTEN_DECIMALS = 4;

export interface NumberStyle {
  unit?: string;
  /** Limits the number is held against; one decimal more than the finest of them is shown. */
  limits?: readonly (number | null)[];
  /** Standard uncertainty (k = 1); nothing finer than a tenth of U = 2u is shown. */
  u?: number | null;
  /** '−' on screen and paper; '-' in files to be read by machines. */
  minus?: '−' | '-';
  /** Writes '+' before positive numbers. */
  signed?: boolean;
}

/** Decimals after the point that a number is written with, 0 … 9. */
function decimalsOf(value: number): number {
  const text = String(Number(value.toFixed(9)));
  if (text.includes('e')) return 9;
  const point = text.indexOf('.');
  return point < 0 ? 0 : text.length - point - 1;
}

/** Decimals to show: one more than the limits', at least the unit's usual number, never finer than a tenth of U. */
export function decimalsFor(style: NumberStyle = {}): number {
  let decimals = DEFAULT_DECIMALS[style.unit ?? 'mm'] ?? 3;
  for (const limit of style.limits ?? []) {
    const own = limit === null ? 0 : decimalsOf(limit);
    if (own <= WRITTEN_DECIMALS) decimals = Math.max(decimals, own + 1);
  }
  if (style.u !== undefined && style.u !== null && style.u > 0)
    decimals = Math.min(decimals, Math.floor(-Math.log10((2 * style.u) / 10) + 1e-9));
  return Math.min(9, Math.max(0, decimals));
}

/** The number as shown: rounded for display only, never grouped, with a true minus. Zero carries no sign. */
export function formatNumber(value: number | null, style: NumberStyle = {}): string {
  if (value === null) return '–';
  return formatFixed(value, decimalsFor(style), style);
}

/** The number with a given count of decimals. */
export function formatFixed(
  value: number,
  decimals: number,
  style: Pick<NumberStyle, 'minus' | 'signed'> = {},
): string {
  const text = Math.abs(value).toFixed(decimals);
  if (Number(text) === 0) return text;
  return value < 0 ? `${style.minus ?? '−'}${text}` : style.signed ? `+${text}` : text;
}

/** Expanded uncertainty U = 2u to three decimals (four below 0.002), or a dash when unknown. */
export function formatU(u: number | null): string {
  if (u === null) return '–';
  return (2 * u).toFixed(2 * u < 0.002 ? 4 : 3);
}

const UNITS: Record<string, string> = { deg: '°', mm2: 'mm²', mm4: 'mm⁴', '1': '' };

/** Unit as printed: 'deg' becomes '°', 'mm2' becomes 'mm²', '1' is left out. */
export function unitText(unit: string): string {
  return UNITS[unit] ?? unit;
}

/** Number and unit, such as "0.186 mm" or "1.25°". */
export function withUnit(text: string, unit: string): string {
  const shown = unitText(unit);
  return shown === '' ? text : shown === '°' ? `${text}°` : `${text} ${shown}`;
}
