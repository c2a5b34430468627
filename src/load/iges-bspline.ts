import type { BsplineCurve, BsplineSet, BsplineSurface } from '../model/bspline.ts';
import { type CadContent, checkKnots, checkWeights, countKind } from './cad-content.ts';
import { loadError } from './format.ts';
import { type IgesEntry, type IgesFile, igesValues } from './iges-parse.ts';
import { INCH } from './units.ts';

/** Millimetres in the units of length that a flag names. */
const UNITS = [null, INCH, 1, null, 304.8, 1_609_344, 1000, 1e6, 0.0254, 1e-3, 10, 2.54e-5];
const NAMES: Record<string, number> = {
  IN: 1,
  INCH: 1,
  MM: 2,
  FT: 4,
  MI: 5,
  M: 6,
  KM: 7,
  MIL: 8,
  UM: 9,
  CM: 10,
  UIN: 11,
};
const OTHERS: Record<number, string> = {
  108: 'plane',
  114: 'spline surface',
  118: 'ruled surface',
  120: 'surface of revolution',
  122: 'extruded surface',
  140: 'offset surface',
  186: 'solid',
  190: 'plane',
  192: 'cylinder',
  194: 'cone',
  196: 'sphere',
  198: 'torus',
};
const BOUND: Record<number, string> = {
  143: 'trimmed surface',
  144: 'trimmed surface',
  408: 'moved part of an assembly',
  510: 'trimmed face',
};
const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)([DE][+-]?\d+)?$/i;
const EXPORT = 'Copy or export the file again.';

/**
 * Returns the B-spline curves (126) and surfaces (128) of an IGES file in the file's unit.
 * @throws `load/iges-entity`, `load/iges-reference`, `load/not-a-number`, `load/cad-bspline` with the entry they speak of
 */
export function igesContent(file: IgesFile): CadContent {
  const set: BsplineSet = { surfaces: [], curves: [] };
  const others = new Map<string, number>();
  const bound = new Set<string>();
  for (const entry of file.entries) {
    if (entry.type in OTHERS) countKind(others, OTHERS[entry.type]);
    if (entry.type in BOUND) bound.add(BOUND[entry.type]);
    if (entry.type !== 126 && entry.type !== 128) continue;
    if (entry.moved > 0) bound.add('shape moved by a matrix');
    const values = numbersOf(file, entry);
    if (entry.type === 128) set.surfaces.push({ name: entry.label, surface: readSurface(file, entry, values) });
    else set.curves.push({ name: entry.label, curve: readCurve(file, entry, values) });
  }
  return { set, millimetres: millimetresOf(file), others, bound: [...bound] };
}

function placeOf(file: IgesFile, entry: IgesEntry): string {
  return `entry ${entry.number}, line ${file.parametersFrom + entry.first - 1}`;
}

function wrong(file: IgesFile, entry: IgesEntry, what: string): Error {
  const message = `Entity ${entry.type} of entry ${entry.number}: ${what}.`;
  return loadError(file.input, 'load/iges-entity', message, placeOf(file, entry), EXPORT);
}

/** The parameters of an entry after its type, all numbers. */
function numbersOf(file: IgesFile, entry: IgesEntry): Float64Array {
  const { first, lines, number } = entry;
  const rows = file.parameters.slice(Math.max(0, first - 1), Math.max(0, first - 1) + lines);
  if (first < 1 || rows.length !== lines) {
    const message = `Entry ${number} refers to parameter lines ${first} to ${first + lines - 1}; there are ${file.parameters.length}.`;
    throw loadError(file.input, 'load/iges-reference', message, `entry ${number}`, EXPORT);
  }
  if (rows.some((row) => Number(row.slice(64)) !== number)) {
    const message = `Parameter lines ${first} to ${first + lines - 1} do not all belong to entry ${number}.`;
    throw loadError(file.input, 'load/iges-reference', message, placeOf(file, entry), EXPORT);
  }
  const texts = igesValues(rows.map((row) => row.slice(0, 64)).join(''), file.separators);
  if (texts === null) throw wrong(file, entry, 'its parameters do not end');
  if (Number(texts[0]) !== entry.type) throw wrong(file, entry, `its parameters are of an entity ${texts[0]}`);
  const values = Float64Array.from(texts.slice(1), (text) =>
    text === '' ? 0 : NUMBER.test(text) ? Number(text.replace(/d/i, 'E')) : Number.NaN,
  );
  const bad = values.findIndex((value) => !Number.isFinite(value));
  if (bad >= 0) {
    const message = `Parameter ${bad + 1} of entry ${number} is "${texts[bad + 1].slice(0, 24)}", no number.`;
    const remedy = 'Check the shape and export the file again.';
    throw loadError(file.input, 'load/not-a-number', message, placeOf(file, entry), remedy);
  }
  return values;
}

/** Takes counted parts of the parameters one after the other. */
function taker(file: IgesFile, entry: IgesEntry, values: Float64Array, from: number): (count: number) => Float64Array {
  let at = from;
  return (count) => {
    if (!(count >= 0) || at + count > values.length) {
      throw wrong(file, entry, `it has ${values.length} parameters, too few for its counts`);
    }
    at += count;
    return values.slice(at - count, at);
  };
}

function readSurface(file: IgesFile, entry: IgesEntry, values: Float64Array): BsplineSurface {
  const [lastU, lastV, degreeU, degreeV, , , polynomial] = values;
  const take = taker(file, entry, values, 9);
  const countU = lastU + 1;
  const countV = lastV + 1;
  if (!(countU >= 1 && countV >= 1)) throw wrong(file, entry, 'its counts are below 1');
  const knotsU = take(countU + degreeU + 1);
  const knotsV = take(countV + degreeV + 1);
  const weights = take(countU * countV);
  const surface: BsplineSurface = {
    degreeU,
    degreeV,
    knotsU,
    knotsV,
    countU,
    countV,
    poles: take(3 * countU * countV),
  };
  const ends = take(4);
  const place = placeOf(file, entry);
  checkKnots(file.input, place, degreeU, knotsU, countU);
  checkKnots(file.input, place, degreeV, knotsV, countV);
  checkWeights(file.input, place, weights);
  checkDomain(file, entry, knotsU, degreeU, ends[0], ends[1]);
  checkDomain(file, entry, knotsV, degreeV, ends[2], ends[3]);
  if (isRational(polynomial, weights)) surface.weights = weights;
  return surface;
}

function readCurve(file: IgesFile, entry: IgesEntry, values: Float64Array): BsplineCurve {
  const [last, degree, , , polynomial] = values;
  const take = taker(file, entry, values, 6);
  const count = last + 1;
  if (!(count >= 1)) throw wrong(file, entry, 'its count is below 1');
  const knots = take(count + degree + 1);
  const weights = take(count);
  const curve: BsplineCurve = { degree, knots, poles: take(3 * count) };
  const [from, to] = take(2);
  const place = placeOf(file, entry);
  checkKnots(file.input, place, degree, knots, count);
  checkWeights(file.input, place, weights);
  checkDomain(file, entry, knots, degree, from, to);
  if (isRational(polynomial, weights)) curve.weights = weights;
  return curve;
}

/** Equal weights cancel out, whatever the flag says. */
function isRational(polynomial: number, weights: Float64Array): boolean {
  return polynomial !== 1 || weights.some((weight) => weight !== weights[0]);
}

/** A shape that ends inside its knots is trimmed, which is not read. */
function checkDomain(
  file: IgesFile,
  entry: IgesEntry,
  knots: Float64Array,
  degree: number,
  from: number,
  to: number,
): void {
  const [low, high] = [knots[degree], knots[knots.length - 1 - degree]];
  const slack = 1e-9 * (high - low);
  if (Math.abs(from - low) <= slack && Math.abs(to - high) <= slack) return;
  throw wrong(file, entry, `it uses ${from} to ${to} of its parameters ${low} to ${high}; whole shapes are read`);
}

/** Millimetres in the file's unit over its scale. */
function millimetresOf({ global, input }: IgesFile): number | null {
  const scale = global[12] === undefined || global[12] === '' ? 1 : Number(global[12].replace(/d/i, 'E'));
  if (!(scale > 0)) {
    const message = `The global section gives the scale "${global[12]}".`;
    throw loadError(input, 'load/iges-record', message, 'global section', EXPORT);
  }
  const flag = global[13] === undefined || global[13] === '' ? 1 : Number(global[13]);
  const unit = UNITS[flag === 3 ? (NAMES[(global[14] ?? '').trim().toUpperCase()] ?? 0) : flag];
  if (unit === null || unit === undefined) {
    const message = `The file states the unit "${global[14] ?? ''}" (flag ${global[13]}).`;
    throw loadError(input, 'load/unit-unknown', message, 'global section', 'Write the file in mm or inch.');
  }
  return unit / scale;
}
