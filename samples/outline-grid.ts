import { LEADING, type OutlinePlace, type Piece, PRESSURE, SUCTION, TRAILING } from './section-form.ts';

/** How many steps each piece of the outline is divided into; both flanks alike, so that ends can be closed by ladders. */
export interface OutlineSteps {
  leading: number;
  trailing: number;
  flank: number;
}

/** Splits about `points` steps: 16 % to the leading edge, 12 % to the trailing edge, the rest to the flanks. */
export function outlineSteps(points: number): OutlineSteps {
  const even = (share: number) => Math.max(4, 2 * Math.round((points * share) / 2));
  const leading = even(0.16);
  const trailing = even(0.12);
  return { leading, trailing, flank: Math.max(4, Math.round((points - leading - trailing) / 2)) };
}

/** Flank fraction of step `i` of `n`: spacing shrinks to 8 % of the mean at both edges. */
function graded(i: number, n: number): number {
  return i / n - (0.92 * Math.sin((2 * Math.PI * i) / n)) / (2 * Math.PI);
}

/** The places of the nodes, counter-clockwise from the leading edge nose, each once. */
export function outlinePlaces(steps: OutlineSteps): OutlinePlace[] {
  const { leading, trailing, flank } = steps;
  const places: OutlinePlace[] = [];
  for (let i = leading / 2; i < leading; i++) places.push({ piece: LEADING, t: (2 * i) / leading - 1 });
  for (let i = 0; i < flank; i++) places.push({ piece: PRESSURE, t: graded(i, flank) });
  for (let i = trailing; i > 0; i--) places.push({ piece: TRAILING, t: (2 * i) / trailing - 1 });
  for (let i = flank; i > 0; i--) places.push({ piece: SUCTION, t: graded(i, flank) });
  for (let i = 0; i < leading / 2; i++) places.push({ piece: LEADING, t: (2 * i) / leading - 1 });
  return places;
}

/** Values of `t` that bound the steps of one piece, rising. */
export function pieceNodes(steps: OutlineSteps, piece: Piece): number[] {
  const count = piece === LEADING ? steps.leading : piece === TRAILING ? steps.trailing : steps.flank;
  const edge = piece === LEADING || piece === TRAILING;
  return Array.from({ length: count + 1 }, (_, i) => (edge ? (2 * i) / count - 1 : graded(i, count)));
}
