/** A length as sentences have it: three decimals, true minus, the unit; a plus where asked. */
export function lengthText(value: number, signed = false): string {
  const text = Math.abs(value).toFixed(3);
  const sign = Number(text) === 0 ? '' : value < 0 ? '−' : signed ? '+' : '';
  return `${sign}${text} mm`;
}
