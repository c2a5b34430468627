/** How a mismatch is faded: `cubic` meets the flank tangentially, `quintic` with its curvature too. */
export type FadeKind = 'cubic' | 'quintic';

/** Largest slope and second derivative of a fade by 1 over a length of 1. */
const MOST: Record<FadeKind, { slope: number; bend: number }> = {
  cubic: { slope: 1.5, bend: 6 },
  quintic: { slope: 1.875, bend: 10 / Math.sqrt(3) },
};

/**
 * Returns value, first and second derivative of what is left of a mismatch `s` from where it is whole (1) to where it is
 * gone (0), `length` on: 1 − smoothstep, of degree 3 or 5.
 */
export function fade(kind: FadeKind, s: number, length: number): { value: number; slope: number; bend: number } {
  if (s <= 0) return { value: 1, slope: 0, bend: 0 };
  if (s >= length) return { value: 0, slope: 0, bend: 0 };
  const x = s / length;
  const cubic = kind === 'cubic';
  const step = cubic ? x * x * (3 - 2 * x) : x * x * x * (10 - 15 * x + 6 * x * x);
  const slope = cubic ? 6 * x * (1 - x) : 30 * x * x * (1 - x) ** 2;
  const bend = cubic ? 6 - 12 * x : 60 * x * (1 - x) * (1 - 2 * x);
  return { value: 1 - step, slope: -slope / length, bend: -bend / (length * length) };
}

/** Returns the largest slope (mm/mm) and the largest added curvature (1/mm) of a mismatch faded over a length (mm). */
export function fadeMost(kind: FadeKind, mismatch: number, length: number): { slope: number; bend: number } {
  const size = Math.abs(mismatch);
  return { slope: (MOST[kind].slope * size) / length, bend: (MOST[kind].bend * size) / (length * length) };
}
