import type { BsplineSet, BsplineSurface } from '../model/bspline.ts';
import { type FormatInput, loadError } from './format.ts';
import { INCH } from './units.ts';

/** What a CAD file holds, as far as it is looked at. Lengths in the file's own unit. */
export interface CadContent {
  set: BsplineSet;
  /** Millimetres in the file's unit of length; null when the file states none. */
  millimetres: number | null;
  /** Kinds of other shapes in plain words with their counts. */
  others: Map<string, number>;
  /** Places at which shapes are moved or trimmed, in plain words; empty when all stand as they are. */
  bound: string[];
}

const HIGHEST_DEGREE = 25;

/** Adds one to the count of a kind. */
export function countKind(others: Map<string, number>, kind: string): void {
  others.set(kind, (others.get(kind) ?? 0) + 1);
}

/** Returns the largest side of the box round a surface's poles. */
export function polesSize({ poles }: BsplineSurface): number {
  let size = 0;
  for (let axis = 0; axis < 3; axis++) {
    let [low, high] = [poles[axis], poles[axis]];
    for (let k = axis; k < poles.length; k += 3) {
      low = Math.min(low, poles[k]);
      high = Math.max(high, poles[k]);
    }
    size = Math.max(size, high - low);
  }
  return size;
}

/** Moves lengths of any unit but inch to mm in place and returns the unit they are in then; null when not stated. */
export function settleUnit(content: CadContent): 'mm' | 'inch' | null {
  const { millimetres, set } = content;
  if (millimetres === null) return null;
  if (millimetres === 1) return 'mm';
  if (millimetres === INCH) return 'inch';
  for (const { poles } of [...set.surfaces.map((each) => each.surface), ...set.curves.map((each) => each.curve)]) {
    for (let k = 0; k < poles.length; k++) poles[k] *= millimetres;
  }
  return 'mm';
}

/**
 * Checks degree, knots and weights along one direction of a curve or surface.
 * @throws `load/cad-bspline`
 */
export function checkKnots(
  input: FormatInput,
  place: string,
  degree: number,
  knots: Float64Array,
  count: number,
): void {
  const fail = (message: string): Error =>
    loadError(input, 'load/cad-bspline', message, place, 'The shape is damaged: export the file again.');
  if (!Number.isInteger(degree) || degree < 1 || degree > HIGHEST_DEGREE) throw fail(`The degree is ${degree}.`);
  if (count <= degree) throw fail(`${count} points are too few for degree ${degree}.`);
  if (knots.length !== count + degree + 1) {
    throw fail(`There are ${knots.length} knots; ${count + degree + 1} are needed for ${count} points.`);
  }
  for (let k = 1; k < knots.length; k++) {
    if (knots[k] < knots[k - 1]) throw fail(`Knot ${k + 1} is below the one before it.`);
    const [from, to] = [knots[degree], knots[count]];
    if (k > degree && knots[k] === knots[k - degree] && knots[k] > from && knots[k] < to) {
      throw fail(`Knot ${knots[k]} counts more often than the degree ${degree}.`);
    }
  }
  if (!(knots[count] > knots[degree])) throw fail('All knots are equal.');
}

/** Checks that all weights are positive. @throws `load/cad-bspline` */
export function checkWeights(input: FormatInput, place: string, weights: Float64Array): void {
  const wrong = weights.find((weight) => !(weight > 0));
  if (wrong === undefined) return;
  const message = `A weight is ${wrong}; weights are above 0.`;
  throw loadError(input, 'load/cad-bspline', message, place, 'The shape is damaged: export the file again.');
}
