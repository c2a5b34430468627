import { outlineKnotSpans } from '../fit/outline-evaluate.ts';
import type { Outline } from '../model/outline.ts';
import type { EndCircle } from './camber-end.ts';
import type { Inscribed } from './inscribed-circle.ts';

/** A spline through exact points forgets a jump of curvature by a factor of four a span. */
const SPANS = 5;
/** Fewer circles than this are all kept. */
const LEAST = 8;

/**
 * Returns the circles of an exact outline whose contacts lie some spans away from those at a round end. Where an edge
 * arc meets a flank the curvature jumps; the spline rings there, and the centres of circles that touch it wander.
 */
export function steadyCircles(
  outline: Outline,
  circles: Inscribed[],
  leading: EndCircle,
  trailing: EndCircle,
): Inscribed[] {
  const knots = outlineKnotSpans(outline);
  const spans = (from: number, to: number) => Math.abs(spanIndex(outline, knots, to) - spanIndex(outline, knots, from));
  const kept = circles.filter(
    (c) =>
      (leading.kind !== 'round' ||
        Math.min(spans(leading.to, c.first), spans(leading.from + outline.period, c.second)) >= SPANS) &&
      (trailing.kind !== 'round' || Math.min(spans(c.first, trailing.from), spans(c.second, trailing.to)) >= SPANS),
  );
  return kept.length < LEAST ? circles : kept;
}

/** Place of a parameter counted in spans; whole turns count on. */
function spanIndex(outline: Outline, knots: Float64Array, t: number): number {
  const turns = Math.floor((t - knots[0]) / outline.period);
  const wrapped = t - turns * outline.period;
  let low = 0;
  let high = knots.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (knots[middle] <= wrapped) low = middle;
    else high = middle;
  }
  const next = low + 1 < knots.length ? knots[low + 1] : knots[0] + outline.period;
  return turns * knots.length + low + (wrapped - knots[low]) / (next - knots[low]);
}
