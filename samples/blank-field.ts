import { LEADING, PRESSURE, type SUCTION, TRAILING } from './section-form.ts';

/** Material outside a surface at a place on it, along its normal (mm). */
export type FieldAt = (piece: number, t: number, height: number) => number;

/** A place where a field comes down to its least, and how far it reaches. */
export interface ThinSpot {
  piece: typeof PRESSURE | typeof SUCTION;
  t: number;
  height: number;
  /** Half widths: share of the arc, height (mm). */
  widthT: number;
  widthHeight: number;
}

/** True on either edge. */
export function onEdge(piece: number): boolean {
  return piece === LEADING || piece === TRAILING;
}

/** +1 on the pressure side, −1 on the suction side, smooth round the edges. */
export function sideShare(piece: number, t: number): number {
  if (onEdge(piece)) return Math.sin((Math.PI / 2) * t);
  return piece === PRESSURE ? 1 : -1;
}

/** 1 on the edges, falling to 0 on the flanks over about a tenth of the arc. */
export function edgeShare(piece: number, t: number): number {
  return onEdge(piece) ? 1 : Math.exp(-(((t < 0.5 ? t : 1 - t) / 0.12) ** 2));
}

/** Square of the distance from a spot's middle over its half widths. */
function reachOf(spot: ThinSpot, t: number, height: number): number {
  return ((t - spot.t) / spot.widthT) ** 2 + ((height - spot.height) / spot.widthHeight) ** 2;
}

/** A smooth hump: 1 in the middle of a spot, 0 with its slope from its border on. */
function hump(spot: ThinSpot, piece: number, t: number, height: number): number {
  if (piece !== spot.piece) return 0;
  return Math.max(0, 1 - reachOf(spot, t, height)) ** 2;
}

/** A hump with a broad top and steeper sides. */
export function plateau(spot: ThinSpot, piece: number, t: number, height: number): number {
  return 1 - (1 - hump(spot, piece, t, height)) ** 3;
}

/**
 * A field that is `least` in the middle of every spot and more everywhere else: `excess` (above 0) stands on top, fading to
 * 0 at each spot with the square of the distance.
 */
export function thinnedField(least: number, excess: FieldAt, spots: readonly ThinSpot[]): FieldAt {
  return (piece, t, height) => {
    let share = 1;
    for (const spot of spots) share *= 1 - hump(spot, piece, t, height);
    return least + share * excess(piece, t, height);
  };
}
