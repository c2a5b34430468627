/** A length as sentences have it: three decimals, true minus, the unit; a plus where asked. */
export function lengthText(value: number, signed = false): string {
  const text = Math.abs(value).toFixed(3);
  const sign = Number(text) === 0 ? '' : value < 0 ? '−' : signed ? '+' : '';
  return `${sign}${text} mm`;
}

/** A place of the surface as checks name it: height, and length from the leading edge with the suction side negative (mm). */
export function placeText(height: number, along: number): string {
  return `height ${height.toFixed(1)} mm, ${lengthText(along)} along`;
}
