import { localPoint } from '../../samples/disk-envelope.ts';
import {
  arcLength,
  LEADING,
  type Piece,
  PRESSURE,
  type SectionForm,
  SUCTION,
  TRAILING,
} from '../../samples/section-form.ts';
import { normalFrom, seededRandom } from '../../src/math/random.ts';

/** Three closed-form sections for statistics of noisy points: circular edges, elliptic edges, a turbine section. */

export type ReferenceName = 'round' | 'elliptic' | 'turbine';

export interface ReferenceSection {
  form: SectionForm;
  /** The form whose trailing edge holds, where the edges differ in shape. */
  trailing: SectionForm;
  /** Disk radius by fraction of the arc as a polynomial, rising powers; absent: the form's own law. */
  law?: number[];
}

const DEG = Math.PI / 180;

function section(
  centres: number,
  camberDeg: number,
  most: number,
  leading: number,
  trailing: number,
  ratios: [number, number] = [1, 1],
): ReferenceSection {
  const turning = camberDeg * DEG;
  const arcRadius = centres / (2 * Math.sin(turning / 2));
  const form = { arcRadius, turning, leading, trailing, most, offset: 0, angle: 0, x: 0, y: 0, peak: 0.4 };
  return { form: { ...form, ratio: ratios[0] }, trailing: { ...form, ratio: ratios[1] } };
}

/**
 * The quintic law of the disk radius with both end radii, no slope at either end (elliptic edges join there), and the
 * greatest radius at the peak.
 */
function quinticLaw({ leading, trailing, most, peak }: SectionForm): number[] {
  // r = leading + v² (a + b w + c w² + d w³) with w = v − 1: the rows are r(1), r′(1), r(peak), r′(peak).
  const a = trailing - leading;
  const b = -2 * a;
  const w = peak - 1;
  const height = (most - leading) / (peak * peak) - a - b * w;
  const slope = (-2 * (most - leading)) / peak ** 3 - b;
  const d = (slope - (2 * height) / w) / (w * w);
  const c = height / (w * w) - d * w;
  const shifted = [a - b + c - d, b - 2 * c + 3 * d, c - 3 * d, d];
  return [leading, 0, ...shifted];
}

const elliptic = section(66.345, 42, 2.3, 0.421, 0.303, [3, 2]);

export const REFERENCE_SECTIONS: Record<ReferenceName, ReferenceSection> = {
  round: section(50.495, 28, 1.65, 0.235, 0.19),
  elliptic: { ...elliptic, law: quinticLaw(elliptic.form) },
  turbine: section(34.5, 86, 2.65, 1.225, 0.275),
};

/** Point, outward unit normal and speed at a place of a section, as `localPoint` writes them. */
export function referencePoint(reference: ReferenceSection, piece: Piece, t: number, out: Float64Array): void {
  const { form, law } = reference;
  if (piece === TRAILING) localPoint(reference.trailing, piece, t, out);
  else if (piece === LEADING || !law) localPoint(form, piece, t, out);
  else flankPoint(form, law, piece === SUCTION ? 1 : -1, t, out);
}

/** Disk envelope: c + r n with n = −r′ T ± √(1 − r′²) N, r′ by arc length; speed from a small step. */
function flankPoint(form: SectionForm, law: number[], side: 1 | -1, t: number, out: Float64Array): void {
  const place = (v: number): [number, number, number, number] => {
    const radius = law.reduceRight((sum, c) => sum * v + c, 0);
    const slope = law.reduceRight((sum, c, k) => (k > 0 ? sum * v + k * c : sum), 0) / arcLength(form);
    const across = side * Math.sqrt(1 - slope * slope);
    const angle = form.turning * (v - 0.5);
    const nx = -slope * Math.cos(angle) + across * Math.sin(angle);
    const ny = slope * Math.sin(angle) + across * Math.cos(angle);
    return [
      form.arcRadius * Math.sin(angle) + radius * nx,
      form.arcRadius * (Math.cos(angle) - 1) + radius * ny,
      nx,
      ny,
    ];
  };
  const step = 1e-6;
  const [before, after] = [place(t - step), place(t + step)];
  out.set(place(t));
  out[4] = Math.hypot(after[0] - before[0], after[1] - before[1]) / (2 * step);
}

/** A departure from the form along its outward normal (mm) by piece and place on the piece. */
export type Departure = (piece: Piece, t: number) => number;

const STEPS = 2000;
const ROUND: [Piece, number, number][] = [
  [LEADING, -1, 1],
  [PRESSURE, 0, 1],
  [TRAILING, 1, -1],
  [SUCTION, 1, 0],
];

/** Counts of points on an edge and on a flank. */
export interface PointCounts {
  edge: number;
  flank: number;
}

/**
 * Returns points uniformly random by arc length in counter-clockwise order, with normal noise along the true normal.
 * @param sigma standard deviation of the noise (mm); 0 for evenly spaced exact points
 */
export function sectionPoints(
  reference: ReferenceSection,
  { edge, flank }: PointCounts,
  sigma: number,
  seed: number,
  departure?: Departure,
): Float64Array {
  const uniform = seededRandom(seed);
  const normal = normalFrom(seededRandom(seed + 100_000));
  const out = new Float64Array(5);
  const points: number[] = [];
  for (const [piece, from, to] of ROUND) {
    const count = piece === LEADING || piece === TRAILING ? edge : flank;
    const length = new Float64Array(STEPS + 1);
    for (let i = 0; i < STEPS; i++) {
      referencePoint(reference, piece, from + ((to - from) * (i + 0.5)) / STEPS, out);
      length[i + 1] = length[i] + out[4];
    }
    const wanted = Float64Array.from(
      { length: count },
      (_, k) => (sigma > 0 ? uniform() : k / count) * length[STEPS],
    ).sort();
    let i = 0;
    for (const s of wanted) {
      while (length[i + 1] < s) i++;
      const t = from + ((to - from) * (i + (s - length[i]) / (length[i + 1] - length[i]))) / STEPS;
      referencePoint(reference, piece, t, out);
      const off = (departure?.(piece, t) ?? 0) + sigma * (sigma > 0 ? normal() : 0);
      points.push(out[0] + off * out[2], out[1] + off * out[3]);
    }
  }
  return Float64Array.from(points);
}
