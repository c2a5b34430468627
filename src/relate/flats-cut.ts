import { type ChordCut, chordCut } from '../math/chord-cut.ts';
import type { EdgePatch, EdgeStation } from './flats-edge.ts';

/** Harmonics of an edge's normal angle that smooth form has: size, place, and what is blunt, pointed or askew. */
export const HARMONICS = 5;

/** Writes the harmonics at an angle. */
export function harmonics(angle: number, out: Float64Array): void {
  out[0] = 1;
  out[1] = Math.cos(angle);
  out[2] = Math.sin(angle);
  out[3] = Math.cos(2 * angle);
  out[4] = Math.sin(2 * angle);
}

/**
 * Returns what a flat takes off an edge at a station, at the angles of the patch's table; null where the flat does not lie
 * within the edge.
 * @param centre angle of the flat's normal (rad)
 * @param sagitta depth of the flat on the circle of the nose's radius (mm)
 */
export function flatCut(station: EdgeStation, centre: number, sagitta: number): ChordCut | null {
  const cosine = 1 - sagitta / station.radius;
  return cosine > 0 && cosine < 1 ? chordCut(station.places, centre, Math.acos(cosine)) : null;
}

/** Value of a table over a patch's angles at one of them. */
export function tableAt({ table }: EdgePatch, values: Float64Array, angle: number): number {
  const at = (angle - table[0]) / (table[1] - table[0]);
  const k = Math.min(table.length - 2, Math.max(0, Math.floor(at)));
  return values[k] + (at - k) * (values[k + 1] - values[k]);
}
