import { LEADING, type Piece, PRESSURE, SUCTION, TRAILING } from '../../samples/section-form.ts';
import { interpolateOutline } from '../../src/fit/interpolate-outline.ts';
import { seededRandom } from '../../src/math/random.ts';
import type { Outline } from '../../src/model/outline.ts';
import { type Departure, type PointCounts, type ReferenceSection, referencePoint } from './reference-sections.ts';

/** A reference section with a departure that is smooth along the whole outline. */

const STEPS = 2000;
const HARMONICS = 3;
/** Pieces counter-clockwise, each with its way. */
const ROUND: [Piece, number, number][] = [
  [LEADING, -1, 1],
  [PRESSURE, 0, 1],
  [TRAILING, 1, -1],
  [SUCTION, 1, 0],
];

/** Returns a seeded departure of the first three harmonics of the length round the outline, at most `size` (mm). */
export function smoothDeparture(reference: ReferenceSection, seed: number, size = 0.05): Departure {
  const random = seededRandom(seed + 40_000);
  const terms = Array.from({ length: HARMONICS }, (_, k) => ({
    turns: k + 1,
    share: (2 * random() - 1) / (k + 1),
    phase: 2 * Math.PI * random(),
  }));
  const raw = (share: number) =>
    terms.reduce((sum, term) => sum + term.share * Math.cos(2 * Math.PI * term.turns * share + term.phase), 0);
  let most = 0;
  for (let i = 0; i < STEPS; i++) most = Math.max(most, Math.abs(raw(i / STEPS)));
  const at = shareOf(reference);
  return (piece, t) => (size / most) * raw(at(piece, t));
}

/** Returns the length from the first point of the outline, by piece and place, as a share of the whole; smooth. */
function shareOf(reference: ReferenceSection): Departure {
  const out = new Float64Array(5);
  const speedAt = (piece: Piece, t: number) => {
    referencePoint(reference, piece, t, out);
    return out[4];
  };
  let sum = 0;
  const pieces = ROUND.map(([piece, from, to]) => {
    const step = (to - from) / STEPS;
    const size = Math.abs(step);
    const speed = Float64Array.from({ length: STEPS + 1 }, (_, i) => size * speedAt(piece, from + step * i));
    const length = new Float64Array(STEPS + 1);
    for (let i = 0; i < STEPS; i++) {
      const middle = size * speedAt(piece, from + step * (i + 0.5));
      length[i + 1] = length[i] + (speed[i] + 4 * middle + speed[i + 1]) / 6;
    }
    const start = sum;
    sum += length[STEPS];
    return { piece, from, step, length, speed, start };
  });
  return (wanted, t) => {
    const { from, step, length, speed, start } = pieces.find(({ piece }) => piece === wanted)!;
    const place = Math.min(STEPS, Math.max(0, (t - from) / step));
    const i = Math.min(STEPS - 1, Math.floor(place));
    const f = place - i;
    const rise = length[i + 1] - length[i];
    const [a, b] = [speed[i], speed[i + 1]];
    return (start + length[i] + f * (a + f * (3 * rise - 2 * a - b + f * (a + b - 2 * rise)))) / sum;
  };
}

/** Returns the closed outline through exact points of a section. */
export function exactNominal(reference: ReferenceSection): Outline {
  return interpolateOutline(exactPoints(reference, { edge: 60, flank: 160 }));
}

/** Returns exact points of a section, set closely where edges and flanks join. */
export function exactPoints(
  reference: ReferenceSection,
  { edge, flank }: PointCounts,
  departure?: Departure,
): Float64Array {
  const out = new Float64Array(5);
  const points: number[] = [];
  for (const [piece, from, to] of ROUND) {
    const isEdge = piece === LEADING || piece === TRAILING;
    const count = isEdge ? edge : flank;
    for (let k = 0; k < count; k++) {
      const share = isEdge ? k / count : 0.5 - 0.5 * Math.cos((Math.PI * k) / count);
      const t = from + (to - from) * share;
      referencePoint(reference, piece, t, out);
      const off = departure?.(piece, t) ?? 0;
      points.push(out[0] + off * out[2], out[1] + off * out[3]);
    }
  }
  return Float64Array.from(points);
}
