/** Comparing two results documents. */

/** The document without the times, which are never the same twice. */
export function withoutTiming(document: Record<string, unknown>): Record<string, unknown> {
  const { timing: _, ...rest } = document;
  return rest;
}

/**
 * Places where two documents differ, in the order of the first, each with both values. Numbers are equal within
 * max(tolerance, tolerance × size); everything else must be the same.
 */
export function differences(one: unknown, other: unknown, tolerance: number, path = ''): string[] {
  const at = (key: string): string => (path === '' ? key : `${path}.${key}`);
  if (typeof one === 'number' && typeof other === 'number') {
    const allowed = Math.max(tolerance, tolerance * Math.abs(one));
    return Math.abs(one - other) <= allowed ? [] : [`${path}: ${one} and ${other}, apart ${Math.abs(one - other)}`];
  }
  const nested = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null;
  if (nested(one) && nested(other) && Array.isArray(one) === Array.isArray(other)) {
    const keys = new Set([...Object.keys(one), ...Object.keys(other)]);
    return [...keys].flatMap((key) => differences(one[key], other[key], tolerance, at(key)));
  }
  return Object.is(one, other) ? [] : [`${path}: ${JSON.stringify(one)} and ${JSON.stringify(other)}`];
}
