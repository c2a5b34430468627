import { CamberwrightError } from '../error.ts';

/** A number in the shortest decimal form that reads back equal, with the point that ISO 10303-21 asks for. */
export function stepReal(value: number): string {
  if (!Number.isFinite(value)) {
    throw new CamberwrightError('fault/cad-number', `A coordinate, knot or weight is ${value}.`, {
      remedy: 'Report the surface that was to be written.',
    });
  }
  const [mantissa, exponent] = String(value).split('e');
  const real = mantissa.includes('.') ? mantissa : `${mantissa}.`;
  return exponent === undefined ? real : `${real}E${exponent.replace('+', '')}`;
}

/** A string as ISO 10303-21 writes it: quotes and backslashes doubled, what is not plain ASCII as \X2\ or \X4\. */
export function stepString(text: string): string {
  let out = '';
  for (const character of text) {
    const code = character.codePointAt(0)!;
    if (character === "'" || character === '\\') out += character + character;
    else if (code >= 32 && code < 127) out += character;
    else if (code < 0x10000) out += `\\X2\\${hex(code, 4)}\\X0\\`;
    else out += `\\X4\\${hex(code, 8)}\\X0\\`;
  }
  return `'${out}'`;
}

function hex(code: number, digits: number): string {
  return code.toString(16).toUpperCase().padStart(digits, '0');
}

/** A list in brackets. */
export function stepList(items: readonly string[]): string {
  return `(${items.join(',')})`;
}
