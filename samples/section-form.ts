/**
 * One aerofoil section as the envelope of disks along a circular line of centres. Both edges are ellipses of semi-axes
 * `ratio × b` and `b` (ratio 1: circular edges) about the ends of the arc. Own frame: origin at the middle of the arc,
 * leading edge towards −X, suction side towards +Y. Millimetres and radians.
 */
export interface SectionForm {
  /** Radius of the line of centres and the angle it turns through. */
  arcRadius: number;
  turning: number;
  /** Semi-axis across the line of centres at the leading and trailing end (circular edge: its radius). */
  leading: number;
  trailing: number;
  /** Largest disk radius. */
  most: number;
  /** Added to every radius along the outward normal: the root fillet, 0 on the aerofoil. */
  offset: number;
  /** Turn of the section's own frame about +Z, and blade coordinates of its origin. */
  angle: number;
  x: number;
  y: number;
  /** a : b of both edges, 1 or more. */
  ratio: number;
  /** Fraction of the arc at which elliptic sections are thickest; circular ones follow from their three radii. */
  peak: number;
}

/** Derivatives of a form by height; `ratio` and `peak` do not change along the span. */
export type FormRate = Omit<SectionForm, 'ratio' | 'peak'>;

/** Pieces of the outline in counter-clockwise order from the leading edge. */
export const LEADING = 0;
export const PRESSURE = 1;
export const TRAILING = 2;
export const SUCTION = 3;
export type Piece = 0 | 1 | 2 | 3;

/** Names of the pieces as results have them. */
export const SIDES = ['leading-edge', 'pressure', 'trailing-edge', 'suction'] as const;

/**
 * A place on an outline. On a flank `t` is the fraction of the arc, 0 at the leading edge. On an edge it runs from −1
 * where the suction side joins over 0 at the nose to +1 where the pressure side joins.
 */
export interface OutlinePlace {
  piece: Piece;
  t: number;
}

export function arcLength(form: SectionForm): number {
  return form.arcRadius * form.turning;
}

/**
 * Disk radius (without offset) and its first two derivatives by the fraction `v` of the arc, written to
 * `out[0…2]`. Circular edges: the parabola through both end radii with the stated maximum. Elliptic edges: quintic
 * steps, so that slope and second derivative vanish at both ends and at the peak.
 */
export function radiusAt(form: SectionForm, v: number, out: Float64Array): void {
  if (form.ratio === 1) {
    const a = Math.sqrt(form.most - form.leading);
    const k = a + Math.sqrt(form.most - form.trailing);
    out[0] = form.leading + k * v * (2 * a - k * v);
    out[1] = 2 * k * (a - k * v);
    out[2] = -2 * k * k;
    return;
  }
  const front = v < form.peak;
  const width = front ? form.peak : form.peak - 1;
  const q = (front ? v : v - 1) / width;
  const rise = form.most - (front ? form.leading : form.trailing);
  out[0] = form.most - rise * (1 - q * q * q * (10 - 15 * q + 6 * q * q));
  out[1] = (rise * 30 * q * q * (1 - q) * (1 - q)) / width;
  out[2] = (rise * 60 * q * (1 - q) * (1 - 2 * q)) / (width * width);
}

/** Derivative of the disk radius by height at fixed fraction `v` (without offset). */
export function radiusRate(form: SectionForm, rate: FormRate, v: number): number {
  if (form.ratio === 1) {
    const a = Math.sqrt(form.most - form.leading);
    const b = Math.sqrt(form.most - form.trailing);
    const aRate = (rate.most - rate.leading) / (2 * a);
    const k = a + b;
    const kRate = aRate + (rate.most - rate.trailing) / (2 * b);
    return rate.leading + 2 * v * (aRate * k + a * kRate) - 2 * v * v * k * kRate;
  }
  const front = v < form.peak;
  const q = front ? v / form.peak : (v - 1) / (form.peak - 1);
  const share = q * q * q * (10 - 15 * q + 6 * q * q);
  return rate.most * share + (front ? rate.leading : rate.trailing) * (1 - share);
}

/** Half the angle parameter the leading (or trailing) edge piece covers: the joint to the flanks is tangent. */
export function edgeHalfAngle(form: SectionForm, piece: Piece): number {
  if (form.ratio !== 1) return Math.PI / 2;
  const a = Math.sqrt(form.most - form.leading);
  const b = Math.sqrt(form.most - form.trailing);
  return Math.acos((2 * (a + b) * (piece === LEADING ? a : b)) / arcLength(form));
}
