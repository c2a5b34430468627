/** A smooth change of an edge's form: departure a unit of amplitude, by normal angle from the nose. */
export interface EdgeMode {
  kind: 'round' | 'asymmetric';
  /** Angle of the largest departure (rad). */
  centre: number;
  /** What it has to gain beforehand, as a square of standard deviations: the harmonic modes come first. */
  price: number;
  at: (angle: number) => number;
}

const DEG = Math.PI / 180;
/** What a place or width found by search costs. */
export const SEARCH_PRICE = 4;
const WIDTHS = [20 * DEG, 28 * DEG, 38 * DEG];
const CENTRES = [30, 40, 50].flatMap((c) => [-c * DEG, c * DEG]);

const bell = (angle: number, width: number): number => Math.exp(-0.5 * (angle / width) ** 2);
const slope = (angle: number, width: number): number => (angle / width) * bell(angle, width) * Math.exp(0.5);

/** Fuller or leaner at the nose (harmonic and bells), second harmonic across, and one shoulder alone. */
export const EDGE_MODES: readonly EdgeMode[] = [
  { kind: 'round', centre: 0, price: 0, at: (a) => Math.cos(a) ** 2 },
  ...WIDTHS.map((w): EdgeMode => ({ kind: 'round', centre: 0, price: 2 * SEARCH_PRICE, at: (a) => bell(a, w) })),
  { kind: 'asymmetric', centre: 45 * DEG, price: 0, at: (a) => Math.sin(2 * a) },
  ...WIDTHS.map((w): EdgeMode => ({ kind: 'asymmetric', centre: w, price: 2 * SEARCH_PRICE, at: (a) => slope(a, w) })),
  ...CENTRES.map(
    (c): EdgeMode => ({ kind: 'asymmetric', centre: c, price: 4 * SEARCH_PRICE, at: (a) => bell(a - c, 20 * DEG) }),
  ),
];
