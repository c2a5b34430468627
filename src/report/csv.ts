/**
 * One field of a CSV line (RFC 4180): quoted where it holds the separator, a quote or a line break. A text that a
 * spreadsheet would run as a formula gets an apostrophe in front; numbers are written as they are.
 */
export function csvField(value: string | number | null, separator = ','): string {
  if (value === null) return '';
  const text = typeof value === 'number' ? String(value) : /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return text.includes(separator) || /["\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** Lines of fields as CSV text with CR LF line ends (RFC 4180). */
export function csvText(lines: readonly (readonly (string | number | null)[])[], separator = ','): string {
  return lines.map((line) => `${line.map((field) => csvField(field, separator)).join(separator)}\r\n`).join('');
}
