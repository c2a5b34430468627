/** Returns the numbers of all parts one after the other; a single part is returned itself. */
export function joined(parts: readonly Float64Array[]): Float64Array {
  if (parts.length === 1) return parts[0];
  const all = new Float64Array(parts.reduce((sum, part) => sum + part.length, 0));
  let next = 0;
  for (const part of parts) {
    all.set(part, next);
    next += part.length;
  }
  return all;
}
