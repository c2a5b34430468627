import { medianInPlace } from '../math/median.ts';
import type { NominalSurface } from '../model/surface.ts';
import { evaluateSurface, PLACE_SIZE } from '../spatial/surface-evaluate.ts';
import type { SurfaceSection } from './surface-section.ts';

/** A gap may always be this many median spacings long: points fall at random, and long steps come by chance. */
const CHANCE_SPACINGS = 15;
/** Flank limit as a share of the outline's length (about 1 % of chord). */
const OF_LENGTH = 0.005;
/** Limit where the outline turns (rad of normal direction). */
const OF_TURN = (15 * Math.PI) / 180;

/** Stretches of `u` without points, [from, to) rising; one that runs over the trailing edge ends beyond the last column. */
export type OutlineGap = [number, number];

/**
 * Returns the gaps of a section: steps between neighbouring points longer than 1 % of chord on the flanks and 15° of
 * normal direction at the edges, and longer than chance leaves between random points.
 * @param u positions of the points along the outline, rising (mm)
 */
export function outlineGaps(on: SurfaceSection, u: Float64Array): OutlineGap[] {
  const { surface } = on;
  const { columns } = surface;
  const low = columns[0];
  const turn = columns[columns.length - 1] - low;
  if (u.length === 0) return [[low, low + turn]];
  const nextOf = (i: number): number => (i + 1 < u.length ? u[i + 1] : u[0] + turn);
  const steps = Float64Array.from(u, (at, i) => nextOf(i) - at);
  const chance = CHANCE_SPACINGS * medianInPlace(steps.slice());
  const place = new Float64Array(PLACE_SIZE);
  const sharpest = (from: number, to: number): number => {
    let bend = 0;
    for (let k = 0; k <= 8; k++) {
      let at = from + ((to - from) * k) / 8;
      if (at > low + turn) at -= turn;
      evaluateSurface(surface, at, on.heightAt(at), place);
      const speed = Math.hypot(place[3], place[4]);
      bend = Math.max(bend, Math.abs(place[3] * place[10] - place[4] * place[9]) / speed ** 3);
    }
    return bend;
  };
  const gaps: OutlineGap[] = [];
  for (let i = 0; i < u.length; i++) {
    if (steps[i] <= chance) continue;
    const limit = Math.min(OF_LENGTH * turn, OF_TURN / Math.max(sharpest(u[i], nextOf(i)), 1e-12));
    if (steps[i] > limit) gaps.push([u[i], nextOf(i)]);
  }
  return gaps;
}

/** Returns the share of the outline outside its gaps, 0 … 1. */
export function coveredShare(surface: NominalSurface, gaps: readonly OutlineGap[]): number {
  const { columns } = surface;
  const turn = columns[columns.length - 1] - columns[0];
  return 1 - gaps.reduce((sum, [from, to]) => sum + to - from, 0) / turn;
}
