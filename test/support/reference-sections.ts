import { localPoint } from '../../samples/disk-envelope.ts';
import { LEADING, type Piece, PRESSURE, type SectionForm, SUCTION, TRAILING } from '../../samples/section-form.ts';
import { normalFrom, seededRandom } from '../../src/math/random.ts';

/** Three closed-form sections for statistics of noisy points: circular edges, elliptic edges, a turbine section. */

export type ReferenceName = 'round' | 'elliptic' | 'turbine';

/** A section with, where its edges differ in shape, the form whose trailing edge holds. */
export interface ReferenceSection {
  form: SectionForm;
  trailing: SectionForm;
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

export const REFERENCE_SECTIONS: Record<ReferenceName, ReferenceSection> = {
  round: section(50.5, 28, 1.65, 0.235, 0.19),
  elliptic: section(66.3, 42, 2.3, 0.421, 0.303, [3, 2]),
  turbine: section(34.6, 86, 2.65, 1.225, 0.275),
};

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
    const form = piece === TRAILING ? reference.trailing : reference.form;
    const count = piece === LEADING || piece === TRAILING ? edge : flank;
    const length = new Float64Array(STEPS + 1);
    for (let i = 0; i < STEPS; i++) {
      localPoint(form, piece, from + ((to - from) * (i + 0.5)) / STEPS, out);
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
      localPoint(form, piece, t, out);
      const off = (departure?.(piece, t) ?? 0) + sigma * (sigma > 0 ? normal() : 0);
      points.push(out[0] + off * out[2], out[1] + off * out[3]);
    }
  }
  return Float64Array.from(points);
}
