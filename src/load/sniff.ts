/** True when the bytes are text: no NUL and no control characters but tab, line ends, form feed and end-of-file. */
export function looksLikeText(head: Uint8Array): boolean {
  for (const c of head) if (c < 32 && c !== 9 && c !== 10 && c !== 13 && c !== 12 && c !== 26) return false;
  return true;
}

/** Returns the lines of the first bytes as text, without a last line that may be cut; `all` keeps it. */
export function headLines(head: Uint8Array, all: boolean): string[] {
  const lines = new TextDecoder().decode(head).split(/\r\n|\n|\r/);
  if (!all && lines.length > 1) lines.pop();
  return lines;
}
