import { parseNumber } from '../controls/format.ts';

/** Heights (mm) typed with blanks or semicolons between them, rising, each once; null when one is no number or none is there. */
export function parseHeights(text: string): number[] | null {
  const parts = text.split(/[\s;]+/).filter((p) => p !== '');
  const numbers = parts.map(parseNumber);
  if (numbers.length === 0 || numbers.includes(null)) return null;
  return [...new Set(numbers as number[])].sort((a, b) => a - b);
}
