import { type BladeLaw, formAt } from './blade.ts';
import { localPoint } from './disk-envelope.ts';
import type { Piece } from './section-form.ts';

/** A dent pressed into the surface: the hollow of an ellipsoid. */
export interface Nick {
  /** Its middle: piece of the outline, parameter on it, height (mm). */
  piece: Piece;
  t: number;
  height: number;
  /** Depth in the middle and full extents along the outline and along the span (mm). */
  depth: number;
  width: number;
  length: number;
}

const node = new Float64Array(5);

/**
 * Returns how far a place on a blade's surface lies below it for its nicks (mm, 0 or negative, along the normal).
 * Distances along the outline are taken at the outline's speed in the middle of a nick.
 */
export function nickDepths(blade: BladeLaw, nicks: readonly Nick[]): (piece: number, t: number, z: number) => number {
  const cuts = nicks.map((nick) => {
    localPoint(formAt(blade, nick.height).form, nick.piece, nick.t, node);
    return { ...nick, speed: node[4] };
  });
  return (piece, t, z) => {
    let deepest = 0;
    for (const nick of cuts) {
      if (piece !== nick.piece) continue;
      const along = (2 * (t - nick.t) * nick.speed) / nick.width;
      const up = (2 * (z - nick.height)) / nick.length;
      const inside = 1 - along * along - up * up;
      if (inside > 0) deepest = Math.min(deepest, -nick.depth * Math.sqrt(inside));
    }
    return deepest;
  };
}
