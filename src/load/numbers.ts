const POWERS = Float64Array.from({ length: 23 }, (_, i) => Number(`1e${i}`));
const POINT = 46;
const decoder = new TextDecoder();

/** Returns the ASCII text of `bytes[from, to)`; bytes above 127 become U+FFFD or their UTF-8 character. */
export function textOf(bytes: Uint8Array, from: number, to: number): string {
  return decoder.decode(bytes.subarray(from, to));
}

/**
 * Returns the number written in `bytes[from, to)`, equal to `Number()` of the same text, or NaN when it is none.
 * Whole mantissas below 2^53 (15 significant digits, often 16) and a power of ten within ±22 are exact in one
 * multiplication or division (Clinger 1990); all else goes through `Number()`.
 *
 * @param decimal byte of the decimal mark
 */
export function parseNumber(bytes: Uint8Array, from: number, to: number, decimal: number = POINT): number {
  let at = from;
  let c = bytes[at];
  const negative = c === 45;
  if (at < to && (negative || c === 43)) at++;
  let mantissa = 0;
  let significant = 0;
  let digits = 0;
  let exponent = 0;
  let fraction = false;
  for (; at < to; at++) {
    c = bytes[at];
    if (c >= 48 && c <= 57) {
      digits++;
      if (significant > 0 || c !== 48) significant++;
      if (significant <= 16) {
        mantissa = mantissa * 10 + (c - 48);
        if (fraction) exponent--;
      }
    } else if (c === decimal && !fraction) fraction = true;
    else break;
  }
  if (digits === 0) return Number.NaN;
  if (at < to) {
    if ((bytes[at] | 32) !== 101 || ++at === to) return Number.NaN;
    const minus = bytes[at] === 45;
    if (minus || bytes[at] === 43) at++;
    if (at === to) return Number.NaN;
    let power = 0;
    for (; at < to; at++) {
      c = bytes[at];
      if (c < 48 || c > 57) return Number.NaN;
      if (power < 10000) power = power * 10 + (c - 48);
    }
    exponent += minus ? -power : power;
  }
  if (significant > 16 || mantissa > Number.MAX_SAFE_INTEGER || exponent > 22 || exponent < -22) {
    return Number(textOf(bytes, from, to).replace(String.fromCharCode(decimal), '.'));
  }
  const value = exponent < 0 ? mantissa / POWERS[-exponent] : mantissa * POWERS[exponent];
  return negative ? -value : value;
}

/** True when the text is a way to write "not a number" or "infinite". */
export function isNonFiniteText(bytes: Uint8Array, from: number, to: number): boolean {
  return (
    to - from <= 16 && /^[+-]?(nan(\(.*\))?|inf|infinity|1\.?#(qnan|snan|ind|inf)\w*)$/i.test(textOf(bytes, from, to))
  );
}
