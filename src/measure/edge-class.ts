import { solveSymmetric } from '../math/least-squares.ts';
import { chordCut } from './edge-chord-cut.ts';

export type EdgeKind = 'as nominal' | 'blunt' | 'pointed' | 'flat' | 'asymmetric';

/** Points of an edge against its reference (the nominal edge, or a circle or ellipse fitted to the points). */
export interface EdgeDepartures {
  /** Angle of the reference's outward normal from that at the nose (rad), rising. */
  angle: Float64Array;
  /** Foot on the reference (mm). */
  x: Float64Array;
  y: Float64Array;
  /** Outward unit normal there. */
  nx: Float64Array;
  ny: Float64Array;
  /** Distance of the point along it (mm, positive outside). */
  departure: Float64Array;
}

export interface EdgeClass {
  kind: EdgeKind;
  /** Change of form (mm): see `edgeClass`. */
  amplitude: number;
  u: number;
  /** Where on the edge the form has its largest departure, as an angle of the normal from the nose (rad). */
  angle: number;
  /** Width of the flat (mm), 0 for other kinds. */
  width: number;
  /** Probability of the kind among the five, 0 … 1. */
  confidence: number;
}

export interface EdgeClassOptions {
  /** Changes of form smaller than this leave the edge as nominal (mm). */
  leastForm: number;
  /** What the points are held against: an ellipse already takes what is blunt or pointed. */
  reference: 'nominal' | 'circle' | 'ellipse';
}

export const EDGE_CLASS_DEFAULTS: EdgeClassOptions = { leastForm: 0.01, reference: 'nominal' };

/** A form of an edge: departure a unit of amplitude, by normal angle. */
interface FormMode {
  kind: 'round' | 'asymmetric';
  centre: number;
  /** What it has to gain beforehand: the harmonic modes come first. */
  price: number;
  at: (angle: number) => number;
}

const DEG = Math.PI / 180;
/** Significance of a change, as a square of standard deviations, and what a place and width found by search cost. */
const LEAST_GAIN = 20;
const SEARCH_PRICE = 4;
const WIDTHS = [20 * DEG, 28 * DEG, 38 * DEG];
const CENTRES = [30, 40, 50].flatMap((c) => [-c * DEG, c * DEG]);

const bell = (angle: number, width: number): number => Math.exp(-0.5 * (angle / width) ** 2);
const slope = (angle: number, width: number): number => (angle / width) * bell(angle, width) * Math.exp(0.5);

const MODES: readonly FormMode[] = [
  { kind: 'round', centre: 0, price: 0, at: (a) => Math.cos(a) ** 2 },
  ...WIDTHS.map((w): FormMode => ({ kind: 'round', centre: 0, price: 2 * SEARCH_PRICE, at: (a) => bell(a, w) })),
  { kind: 'asymmetric', centre: 45 * DEG, price: 0, at: (a) => Math.sin(2 * a) },
  ...WIDTHS.map((w): FormMode => ({ kind: 'asymmetric', centre: w, price: 2 * SEARCH_PRICE, at: (a) => slope(a, w) })),
  ...CENTRES.map(
    (c): FormMode => ({ kind: 'asymmetric', centre: c, price: 4 * SEARCH_PRICE, at: (a) => bell(a - c, 20 * DEG) }),
  ),
];

/**
 * Returns the form class of an edge by likelihood: the points' departures are explained by position alone (shift
 * along x and y, and an even offset where the reference is a circle or ellipse: as nominal), or with one explicit change of form besides: fullness at the nose
 * (cos² of the normal angle or a bell; negative blunt, positive pointed), an antisymmetric or one-sided mode, or a flat cut
 * by a chord of free place and width, its depth given by both. The likeliest is taken when it is significant and large
 * enough. The amplitude is the largest normal departure of the fitted form from the reference edge (mm): negative
 * missing material at the nose (blunt), positive more (pointed), the sagitta of a flat (positive), the size of the
 * asymmetric mode with the sign it has at positive angles.
 * Against a nominal an even growth of an edge counts for blunt, which it is for a given thickness behind it.
 * @param sigma standard deviation of a point (mm)
 */
export function edgeClass(
  points: EdgeDepartures,
  sigma: number,
  options: EdgeClassOptions = EDGE_CLASS_DEFAULTS,
): EdgeClass {
  const base = baseOf(points, options.reference);
  const residual = base.without(points.departure);
  const best: Record<'round' | 'asymmetric' | 'flat', EdgeClass & { gain: number }> = {
    round: nothing(),
    asymmetric: nothing(),
    flat: nothing(),
  };
  for (const mode of MODES) {
    const form = points.angle.map(mode.at);
    const own = base.without(form);
    const square = dot(own, own);
    if (!(square > 1e-6 * dot(form, form))) continue;
    const amplitude = dot(own, residual) / square;
    const gain = (amplitude * amplitude * square) / (sigma * sigma) - mode.price;
    if (gain <= best[mode.kind].gain) continue;
    const kind = mode.kind === 'asymmetric' ? 'asymmetric' : amplitude < 0 ? 'blunt' : 'pointed';
    const u = sigma / Math.sqrt(square);
    best[mode.kind] = { kind, amplitude, u, angle: mode.centre, width: 0, confidence: 0, gain };
  }
  searchFlat(
    points,
    (centre, half) => {
      const cut = chordCut(points, centre, half);
      if (!cut) return;
      const own = base.without(cut.departure);
      const square = dot(own, own);
      const gain = (2 * dot(own, residual) - square) / (sigma * sigma) - 2 * SEARCH_PRICE;
      if (gain <= best.flat.gain) return;
      // The sagitta grows with the square of the width: its own slope scales the departure by one.
      const u = (sigma * cut.sagitta) / Math.sqrt(square);
      best.flat = {
        kind: 'flat',
        amplitude: cut.sagitta,
        u,
        angle: centre,
        width: cut.width,
        confidence: 0,
        gain,
      };
    },
    () => best.flat,
  );
  return chosen(Object.values(best), options.leastForm);
}

const nothing = (): EdgeClass & { gain: number } => ({
  kind: 'as nominal',
  amplitude: 0,
  u: 0,
  angle: 0,
  width: 0,
  confidence: 0,
  gain: 0,
});

/** Tries chords over the edge, then finer ones about the best of them. */
function searchFlat(
  points: EdgeDepartures,
  attempt: (centre: number, half: number) => void,
  best: () => EdgeClass,
): void {
  const { angle } = points;
  const reach = Math.min(60 * DEG, -angle[0], angle[angle.length - 1]);
  for (let c = -reach; c <= reach; c += 5 * DEG) for (let w = 8 * DEG; w <= 46 * DEG; w += 3 * DEG) attempt(c, w);
  const { kind, angle: centre } = best();
  if (kind !== 'flat') return;
  for (let c = -2.5; c <= 2.5; c += 0.5) for (let w = 8; w <= 46; w += 1) attempt(centre + c * DEG, w * DEG);
}

function chosen(forms: (EdgeClass & { gain: number })[], leastForm: number): EdgeClass {
  const most = forms.reduce((a, b) => (b.gain > a.gain ? b : a));
  // The change has to pay for being one: an unchanged edge has a gain of nothing.
  const level = Math.max(most.gain, LEAST_GAIN);
  const odds = (gain: number) => Math.exp(0.5 * (gain - level));
  const total = odds(LEAST_GAIN) + forms.reduce((sum, { gain }) => sum + odds(gain), 0);
  const { gain, ...form } = most;
  if (gain > LEAST_GAIN && Math.abs(form.amplitude) >= leastForm) return { ...form, confidence: odds(gain) / total };
  const confidence = gain > LEAST_GAIN ? 1 : odds(LEAST_GAIN) / total;
  return { ...form, kind: 'as nominal', width: 0, confidence };
}

interface Base {
  /** What of values over the points is not explained by position (and size). */
  without: (values: Float64Array) => Float64Array;
}

function baseOf(points: EdgeDepartures, reference: EdgeClassOptions['reference']): Base {
  const { angle, nx, ny } = points;
  const columns = [nx, ny];
  if (reference !== 'nominal') columns.push(new Float64Array(angle.length).fill(1));
  if (reference === 'ellipse') columns.push(angle.map((a) => Math.cos(2 * a)));
  const m = columns.length;
  const normal = new Float64Array(m * m);
  for (let a = 0; a < m; a++) for (let b = 0; b < m; b++) normal[a * m + b] = dot(columns[a], columns[b]);
  return {
    without: (values) => {
      const solution = solveSymmetric(
        normal,
        Float64Array.from(columns, (column) => dot(column, values)),
      );
      if (!solution) return values;
      return values.map((v, i) => columns.reduce((rest, column, k) => rest - solution[k] * column[i], v));
    },
  };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}
