import type { Parameters } from '../model/value.ts';

/** Parameters that are lengths (mm). */
const LENGTHS = new Set(['setback', 'run', 'window', 'base', 'width', 'pivotX', 'pivotY', 'pitch', 'radius']);
/** Parameters whose word says all by itself. */
const BARE = new Set(['extension', 'direction', 'chord', 'basis', 'form']);
/** Pairs printed as a range, with their unit. */
const RANGES: readonly (readonly [string, string, string])[] = [
  ['from', 'to', '%'],
  ['shortCutOff', 'longCutOff', 'mm'],
];

/** "halfAngle" becomes "half angle". */
function words(name: string): string {
  return name.replace(/([a-z])([A-Z])/g, '$1 $2').toLowerCase();
}

function parameterText(name: string, value: number | string | boolean): string {
  if (typeof value === 'boolean') return value ? words(name) : `no ${words(name)}`;
  if (name === 'axis') return `from ${value}`;
  if (typeof value === 'string') return BARE.has(name) ? value : `${words(name)} ${value}`;
  const amount = String(Number(value.toFixed(6))).replace('-', '−');
  if (name === 'halfAngleDeg') return `±${amount}°`;
  if (name === 'ratio') return `${amount} : 1`;
  if (name === 'setback') return `${amount} mm`;
  if (name.endsWith('Deg')) return `${words(name.slice(0, -3))} ${amount}°`;
  return `${words(name)} ${amount}${LENGTHS.has(name) ? ' mm' : ''}`;
}

/** Parameters the row's name says already, or that say the same whatever is chosen. */
const SAID = new Set(['fraction', 'sign']);

/** True for a parameter that adds nothing: one that is said already, or a number that stands for "found from the data". */
function leftOut(name: string, value: unknown): boolean {
  return SAID.has(name) || (value === 0 && (name === 'ratio' || name === 'setback' || name === 'pitch'));
}

/** Parameters in short, such as "±60°", "0.25 mm", "2–12 %, quadratic"; '' without any. */
export function parametersText(parameters: Parameters = {}): string {
  const rest = new Map(Object.entries(parameters).filter(([name, value]) => !leftOut(name, value)));
  const parts: string[] = [];
  for (const [from, to, unit] of RANGES) {
    const [low, high] = [rest.get(from), rest.get(to)];
    if (typeof low !== 'number' || typeof high !== 'number') continue;
    parts.push(`${low}–${high} ${unit}`);
    rest.delete(from);
    rest.delete(to);
  }
  for (const [name, value] of rest) parts.push(parameterText(name, value));
  return parts.join(', ');
}

/** A definition with its parameters in short, such as "R-LSQ ±60°" or "R-SB 0.25 mm". */
export function definitionText(row: { definition: string; parameters?: Parameters | undefined }): string {
  return [row.definition, parametersText(row.parameters)].filter(Boolean).join(' ');
}
