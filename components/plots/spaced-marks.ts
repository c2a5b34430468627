/** Height of a full-size mark and of its text (px). */
const MARK = 16;
const TEXT = 13;

/**
 * Marks with the size at which neighbours do not touch, and which of them have room for their text: the chosen one
 * first, then from the bottom up.
 * @param marks places up the picture (px)
 */
export function spacedMarks<T extends { id: string; y: number }>(
  marks: readonly T[],
  chosen: string | undefined,
): (T & { scale: number; named: boolean })[] {
  const sorted = marks.map((m) => m.y).sort((a, b) => a - b);
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i < sorted.length; i++) least = Math.min(least, sorted[i] - sorted[i - 1]);
  const scale = Math.max(0.35, Math.min(1, least / MARK));
  const taken: number[] = marks.filter((m) => m.id === chosen).map((m) => m.y);
  return marks.map((mark) => {
    const named = mark.id === chosen || taken.every((y) => Math.abs(y - mark.y) >= TEXT);
    if (named && mark.id !== chosen) taken.push(mark.y);
    return { ...mark, scale, named };
  });
}
