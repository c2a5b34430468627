import { chordCut, type TurningPlaces } from '../math/chord-cut.ts';
import { EDGE_MODES, SEARCH_PRICE } from '../math/edge-modes.ts';

export type EdgeKind = 'as nominal' | 'larger' | 'smaller' | 'blunt' | 'pointed' | 'flat' | 'asymmetric';

/** Points of an edge against its reference (the nominal edge, or a circle or ellipse fitted to the points). */
export interface EdgeDepartures extends TurningPlaces {
  /** Distance of the point along the reference's normal (mm, positive outside). */
  departure: Float64Array;
}

export interface EdgeClass {
  kind: EdgeKind;
  /** Change of size or form (mm): see `edgeClass`. */
  amplitude: number;
  u: number;
  /** Where on the edge the form has its largest departure, as an angle of the normal from the nose (rad). */
  angle: number;
  /** Width of the flat (mm), 0 for other kinds. */
  width: number;
  /** Probability of the kind among all, 0 … 1. */
  confidence: number;
}

export interface EdgeClassOptions {
  /** Changes of form and of size smaller than these leave the edge as nominal (mm). */
  leastForm: number;
  leastSize: number;
  /** What the points are held against: an ellipse already takes what is blunt or pointed. */
  reference: 'nominal' | 'circle' | 'ellipse';
}

export const EDGE_CLASS_DEFAULTS: EdgeClassOptions = { leastForm: 0.01, leastSize: 0.004, reference: 'nominal' };

const DEG = Math.PI / 180;
/** Significance of a change, as a square of standard deviations. */
const LEAST_GAIN = 20;
/** What a change of size beside a change of form has to gain. */
const SIZE_PRICE = 12;

/** `beside`: a change of form beside one of size. */
type Found = EdgeClass & { gain: number; beside: boolean };
type Family = 'size' | 'round' | 'asymmetric' | 'flat';

/**
 * Returns the class of an edge by likelihood: the points' departures are explained by position alone (shift along x and
 * y: as nominal), or with an even change of size besides (a constant offset along the normal: larger or smaller), or with
 * one change of form, its size unchanged or free: fullness at the nose (cos² of the normal angle or a bell; negative
 * blunt, positive pointed), an antisymmetric or one-sided mode, or a flat cut by a chord of free place and width, its
 * depth given by both. A circle or ellipse as reference has taken the size already. The likeliest is taken when it is
 * significant and large enough. The amplitude is the offset of an edge that is larger (positive) or smaller; else the
 * largest normal departure of the fitted form from the reference edge (mm): negative missing material at the nose
 * (blunt), positive more (pointed), the sagitta of a flat (positive), the size of the asymmetric mode with the sign it
 * has at positive angles.
 * @param sigma standard deviation of a point (mm)
 */
export function edgeClass(
  points: EdgeDepartures,
  sigma: number,
  options: EdgeClassOptions = EDGE_CLASS_DEFAULTS,
): EdgeClass {
  const best: Record<Family, Found> = { size: nothing(), round: nothing(), asymmetric: nothing(), flat: nothing() };
  if (options.reference === 'nominal') {
    const placed = baseOf(points, 'nominal', false, 0);
    best.size = changeOfSize(placed, sigma);
    const sized = baseOf(points, 'nominal', true, best.size.gain - SIZE_PRICE);
    changesOfForm(points, sigma, [placed, sized], best);
  } else changesOfForm(points, sigma, [baseOf(points, options.reference, true, 0)], best);
  return chosen(best, options);
}

function changeOfSize(base: Base, sigma: number): Found {
  const { residual } = base;
  const { square, cross } = effect(base, new Float64Array(residual.length).fill(1));
  if (!(square > 1e-6 * residual.length)) return nothing();
  const amplitude = cross / square;
  const kind = amplitude < 0 ? 'smaller' : 'larger';
  return { ...nothing(), kind, amplitude, u: sigma / Math.sqrt(square), gain: (amplitude * cross) / (sigma * sigma) };
}

/** Takes the changes of form that gain more than the best of their family so far. */
function changesOfForm(
  points: EdgeDepartures,
  sigma: number,
  bases: readonly Base[],
  best: Record<Family, Found>,
): void {
  for (const mode of EDGE_MODES) {
    const form = points.angle.map(mode.at);
    for (const base of bases) {
      const { beside } = base;
      const { square, cross } = effect(base, form);
      if (!(square > 1e-6 * dot(form, form))) continue;
      const amplitude = cross / square;
      const gain = base.gain + (amplitude * cross) / (sigma * sigma) - mode.price;
      if (gain <= best[mode.kind].gain) continue;
      const kind = mode.kind === 'asymmetric' ? 'asymmetric' : amplitude < 0 ? 'blunt' : 'pointed';
      best[mode.kind] = {
        ...nothing(),
        kind,
        amplitude,
        u: sigma / Math.sqrt(square),
        angle: mode.centre,
        gain,
        beside,
      };
    }
  }
  const attempt = (centre: number, half: number): void => {
    const cut = chordCut(points, centre, half);
    if (!cut) return;
    for (const base of bases) {
      const { beside } = base;
      const { square, cross } = effect(base, cut.departure, cut.from, cut.to);
      const gain = base.gain + (2 * cross - square) / (sigma * sigma) - 2 * SEARCH_PRICE;
      if (gain <= best.flat.gain) continue;
      // The sagitta grows with the square of the width: its own slope scales the departure by one.
      const u = (sigma * cut.sagitta) / Math.sqrt(square);
      best.flat = {
        ...nothing(),
        kind: 'flat',
        amplitude: cut.sagitta,
        u,
        angle: centre,
        width: cut.width,
        gain,
        beside,
      };
    }
  };
  searchFlat(points, attempt, () => best.flat);
}

const nothing = (): Found => ({
  kind: 'as nominal',
  amplitude: 0,
  u: 0,
  angle: 0,
  width: 0,
  confidence: 0,
  gain: 0,
  beside: false,
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

function chosen(best: Record<Family, Found>, { leastForm, leastSize }: EdgeClassOptions): EdgeClass {
  const all = Object.values(best);
  const likeliest = all.reduce((a, b) => (b.gain > a.gain ? b : a));
  const slight = likeliest !== best.size && Math.abs(likeliest.amplitude) < leastForm;
  // A slight change of form beside one of size leaves that.
  const most = slight && likeliest.beside ? best.size : likeliest;
  // The change has to pay for being one: an unchanged edge has a gain of nothing.
  const level = Math.max(most.gain, LEAST_GAIN);
  const odds = (gain: number) => Math.min(1, Math.exp(0.5 * (gain - level)));
  const total = odds(LEAST_GAIN) + all.reduce((sum, { gain }) => sum + odds(gain), 0);
  const { gain, beside: _, ...found } = most;
  const least = most === best.size ? leastSize : leastForm;
  if (gain > LEAST_GAIN && Math.abs(found.amplitude) >= least) return { ...found, confidence: odds(gain) / total };
  const confidence = gain > LEAST_GAIN ? 1 : odds(LEAST_GAIN) / total;
  return { ...found, kind: 'as nominal', width: 0, confidence };
}

/** What position (and size) explain of the points. */
interface Base {
  /** Orthonormal columns over the points, and what they leave of the departures. */
  columns: Float64Array[];
  residual: Float64Array;
  /** What the base itself has gained. */
  gain: number;
  /** True where a change of size is part of it. */
  beside: boolean;
}

function baseOf(points: EdgeDepartures, reference: EdgeClassOptions['reference'], sized: boolean, gain: number): Base {
  const { angle, nx, ny, departure } = points;
  const asked = [nx, ny];
  if (sized) asked.push(new Float64Array(angle.length).fill(1));
  if (reference === 'ellipse') asked.push(angle.map((a) => Math.cos(2 * a)));
  const columns: Float64Array[] = [];
  for (const column of asked) {
    const rest = without(columns, without(columns, column));
    const length = Math.sqrt(dot(rest, rest));
    if (length > 1e-6 * Math.sqrt(dot(column, column))) columns.push(rest.map((v) => v / length));
  }
  return { columns, residual: without(columns, departure), gain, beside: sized && reference === 'nominal' };
}

function without(columns: readonly Float64Array[], values: Float64Array): Float64Array {
  const rest = values.slice();
  for (const column of columns) {
    const share = dot(column, rest);
    for (let i = 0; i < rest.length; i++) rest[i] -= share * column[i];
  }
  return rest;
}

/**
 * Square of what the base leaves of a form, and its product with what it leaves of the departures.
 * @param from,to the form is nothing outside these points
 */
function effect(
  { columns, residual }: Base,
  form: Float64Array,
  from = 0,
  to = form.length,
): { square: number; cross: number } {
  let square = dot(form, form, from, to);
  for (const column of columns) square -= dot(column, form, from, to) ** 2;
  return { square, cross: dot(form, residual, from, to) };
}

function dot(a: Float64Array, b: Float64Array, from = 0, to = a.length): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += a[i] * b[i];
  return sum;
}
