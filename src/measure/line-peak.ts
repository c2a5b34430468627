import { type CamberLine, circleAt } from './camber-line.ts';
import type { Inscribed } from './inscribed-circle.ts';
import { type OutlineTerm, termsUncertainty } from './outline-terms.ts';
import type { SectionContext } from './section-context.ts';
import { fitPolynomial } from './weighted-polynomial.ts';

/** A quantity of inscribed circles, its slope along the line of centres, and what moves it. */
export interface LineQuantity {
  value: (circle: Inscribed) => number;
  slope: (circle: Inscribed) => number;
  terms: (circle: Inscribed, gain: number) => OutlineTerm[];
}

/** The place along the line of centres where a quantity is greatest. */
export interface LinePeak {
  circle: Inscribed;
  /** Length (mm) along the line of centres. */
  at: number;
  value: number;
  /** Second derivative along the line there. */
  bend: number;
  /** Standard uncertainties (mm, and of the value), null without noise. */
  uAt: number | null;
  uValue: number | null;
}

/** Half width of the stretch of a noisy line that tells its peak, as a share of the line, and the degree over it. */
const HALF = 0.2;
const DEGREE = 6;
/** Half width of the second difference of an exact line, as a share of the line. */
const STEP = 0.02;

/**
 * Returns the greatest place of a quantity, or null when it lies at an end. Exact outline: zero of the slope by halving;
 * noisy one: greatest place of a polynomial over the stretch round it.
 */
export function linePeak(context: SectionContext, line: CamberLine, quantity: LineQuantity): LinePeak | null {
  const { circles } = line;
  let best = 0;
  for (let i = 1; i < circles.length; i++) if (quantity.value(circles[i]) > quantity.value(circles[best])) best = i;
  return context.noise ? smoothPeak(context, line, quantity, best) : exactPeak(context, line, quantity, best);
}

function exactPeak(context: SectionContext, line: CamberLine, quantity: LineQuantity, best: number): LinePeak | null {
  const { circles, along, length } = line;
  if (best === 0 || best === circles.length - 1) return null;
  const at = zeroOf(along[best - 1], along[best + 1], (place) => {
    const circle = circleAt(context.contour, line, place);
    return circle ? quantity.slope(circle) : 0;
  });
  const circle = circleAt(context.contour, line, at);
  if (!circle) return null;
  const near = [-STEP, STEP].map((step) => circleAt(context.contour, line, at + step * length));
  const [before, after] = near.map((c) => (c ? quantity.slope(c) : 0));
  const bend = (after - before) / (2 * STEP * length);
  return { circle, at, value: quantity.value(circle), bend, uAt: null, uValue: null };
}

function smoothPeak(context: SectionContext, line: CamberLine, quantity: LineQuantity, best: number): LinePeak | null {
  const { along, length } = line;
  const picked = line.circles.flatMap((c, i) =>
    Math.abs(along[i] - along[best]) <= HALF * length ? [{ circle: c, at: along[i] }] : [],
  );
  if (picked.length < 2 * DEGREE) return null;
  const places = Float64Array.from(picked, (p) => p.at);
  const n = places.length;
  const weights = places.map((_, i) => 0.5 * (places[Math.min(n - 1, i + 1)] - places[Math.max(0, i - 1)]));
  const values = Float64Array.from(picked, (p) => quantity.value(p.circle));
  const fit = fitPolynomial(places, values, weights, DEGREE);
  let top = 0;
  for (let i = 1; i < n; i++) if (fit.value(places[i]) > fit.value(places[top])) top = i;
  if (top === 0 || top === n - 1) return null;
  const at = zeroOf(places[top - 1], places[top + 1], fit.slope);
  const circle = circleAt(context.contour, line, at);
  if (!circle) return null;
  const uncertainty = (gains: Float64Array) =>
    termsUncertainty(
      context.noise,
      context.section.outline,
      picked.flatMap((p, i) => quantity.terms(p.circle, gains[i])),
    );
  const bend = fit.bend(at);
  const uSlope = uncertainty(fit.slopeGains(at));
  return {
    circle,
    at,
    value: fit.value(at),
    bend,
    uAt: uSlope === null ? null : uSlope / Math.abs(bend),
    uValue: uncertainty(fit.valueGains(at)),
  };
}

/** Zero of a falling function by halving. */
function zeroOf(low: number, high: number, f: (x: number) => number): number {
  for (let turn = 0; turn < 50; turn++) {
    const middle = 0.5 * (low + high);
    if (f(middle) > 0) low = middle;
    else high = middle;
  }
  return 0.5 * (low + high);
}
