import { curvatureTurns } from './edge-checks.ts';
import { edgeConic } from './edge-conic.ts';
import type { EdgeJunction, NoseLine } from './edge-curve.ts';
import type { Flank } from './edge-ellipse.ts';
import { type SmoothEdge, type SmoothEdgeOptions, smoothEdge } from './edge-g2.ts';

/** A smooth edge with the range its junctions may lie in. */
export interface SmoothSetbackOptions extends SmoothEdgeOptions {
  /** Least and most set-back (mm), and the one that is tried first. */
  least: number;
  most: number;
  wanted: number;
}

/** `hollow`: curves are found, but none whose curvature rises from both flanks to the nose. */
export type SmoothRefusal = 'not-converged' | 'hollow';

/** Growth from one set-back tried to the next. */
const STEP = 1.12;
/** Curvature may fall below that of the flanks by this share of the nose's. */
const HOLLOW = 1e-6;

/**
 * Returns the smooth edge whose junctions lie nearest to the wanted set-back of those with curvature rising from both
 * flanks to the nose, or why there is none. Too near to the nose the curve bulges, too far it goes hollow before it turns:
 * on straight flanks set-backs of about 1.5 to 2.1 times the half thickness at the nose line serve.
 */
export function smoothEdgeOnFlanks(
  first: Flank,
  second: Flank,
  line: NoseLine,
  options: SmoothSetbackOptions,
): SmoothEdge | SmoothRefusal {
  const { least, most } = options;
  const wanted = Math.min(most, Math.max(least, options.wanted));
  let refusal: SmoothRefusal = 'not-converged';
  for (let k = 0; ; k++) {
    const near = wanted / STEP ** k;
    const far = wanted * STEP ** k;
    if (near < least && far > most) return refusal;
    for (const setback of k === 0 ? [wanted] : [near, far]) {
      if (setback < least || setback > most) continue;
      const found = smoothAt(first(setback), second(setback), line, options);
      if (!found) continue;
      refusal = 'hollow';
      if (isMonotone(found)) return found;
    }
  }
}

function smoothAt(
  first: EdgeJunction | null,
  second: EdgeJunction | null,
  line: NoseLine,
  options: SmoothEdgeOptions,
): SmoothEdge | null {
  if (!first || !second) return null;
  const conic = edgeConic(first, second, line);
  return typeof conic === 'string' ? null : smoothEdge([first, second], line, conic, options);
}

function isMonotone({ curve }: SmoothEdge): boolean {
  const [a, b] = curve.junctions;
  const floor = Math.min(a.curvature, b.curvature) - HOLLOW / curve.noseRadius;
  if (curve.curvature.some((k) => k < floor)) return false;
  return curvatureTurns(curve).every((turns) => turns === 0);
}
