import type { BsplineCurve, BsplineSet, BsplineSurface } from '../model/bspline.ts';
import { type CadContent, checkKnots, checkWeights, countKind } from './cad-content.ts';
import { loadError } from './format.ts';
import type { StepFile } from './step-parse.ts';
import { partOf, refOf, stepMillimetres } from './step-units.ts';
import { entityPlace, type StepRecord, type StepValue, stepEntity } from './step-values.ts';

/** What other shapes are called. */
const OTHERS: Record<string, string> = {
  MANIFOLD_SOLID_BREP: 'solid',
  BREP_WITH_VOIDS: 'solid',
  PLANE: 'plane',
  CYLINDRICAL_SURFACE: 'cylinder',
  CONICAL_SURFACE: 'cone',
  SPHERICAL_SURFACE: 'sphere',
  TOROIDAL_SURFACE: 'torus',
  SURFACE_OF_REVOLUTION: 'surface of revolution',
  SURFACE_OF_LINEAR_EXTRUSION: 'extruded surface',
  BEZIER_SURFACE: 'Bézier surface',
  QUASI_UNIFORM_SURFACE: 'quasi-uniform surface',
  UNIFORM_SURFACE: 'uniform surface',
  OFFSET_SURFACE: 'offset surface',
  TRIANGULATED_FACE: 'triangulated face',
  COMPLEX_TRIANGULATED_FACE: 'triangulated face',
};
/** Entities that trim or move shapes. */
const BOUND: Record<string, string> = {
  ADVANCED_FACE: 'trimmed face',
  FACE_SURFACE: 'trimmed face',
  RECTANGULAR_TRIMMED_SURFACE: 'trimmed surface',
  CURVE_BOUNDED_SURFACE: 'trimmed surface',
  ITEM_DEFINED_TRANSFORMATION: 'moved part of an assembly',
  CARTESIAN_TRANSFORMATION_OPERATOR_3D: 'moved part of an assembly',
  MAPPED_ITEM: 'moved part of an assembly',
};

/**
 * Returns the B-spline curves and surfaces of a STEP file, plain and rational, in the file's unit.
 * @throws `load/step-reference`, `load/step-entity`, `load/cad-bspline` with the entity and line they speak of
 */
export function stepContent(file: StepFile): CadContent {
  const set: BsplineSet = { surfaces: [], curves: [] };
  const others = new Map<string, number>();
  const bound = new Set<string>();
  for (const [id, { type }] of file.entities) {
    if (type in OTHERS) countKind(others, OTHERS[type]);
    if (type in BOUND) bound.add(BOUND[type]);
    if (type === '' || type === 'B_SPLINE_SURFACE_WITH_KNOTS') {
      const records = stepEntity(file, id);
      if (partOf(records, 'B_SPLINE_SURFACE_WITH_KNOTS') !== undefined)
        set.surfaces.push(readSurface(file, id, records));
      else if (partOf(records, 'B_SPLINE_CURVE_WITH_KNOTS') !== undefined)
        set.curves.push(readCurve(file, id, records));
    } else if (type === 'B_SPLINE_CURVE_WITH_KNOTS') set.curves.push(readCurve(file, id, stepEntity(file, id)));
  }
  return { set, millimetres: stepMillimetres(file), others, bound: [...bound] };
}

/** Name and the values after it, of a simple entity or of the parts of a complex one in their order. */
function valuesOf(records: readonly StepRecord[], parts: readonly string[]): { name: string; values: StepValue[] } {
  const first = records.length === 1 ? records[0].values : (partOf(records, 'REPRESENTATION_ITEM')?.values ?? []);
  const name = typeof first[0] === 'string' ? first[0] : '';
  if (records.length === 1) return { name, values: records[0].values.slice(1) };
  return { name, values: parts.flatMap((part) => partOf(records, part)?.values ?? []) };
}

function wrong(file: StepFile, id: number, what: string): Error {
  const message = `Entity #${id}: ${what} cannot be read.`;
  return loadError(file.input, 'load/step-entity', message, entityPlace(file, id), 'Export the file again.');
}

function readSurface(file: StepFile, id: number, records: readonly StepRecord[]): BsplineSet['surfaces'][number] {
  const { name, values } = valuesOf(records, ['B_SPLINE_SURFACE', 'B_SPLINE_SURFACE_WITH_KNOTS']);
  const [degreeU, degreeV, points, , , , , timesU, timesV, onceU, onceV] = values;
  const rows = listOf(file, id, points, 'the list of points').map((row) => listOf(file, id, row, 'the list of points'));
  const countU = rows.length;
  const countV = rows[0]?.length ?? 0;
  if (rows.some((row) => row.length !== countV)) throw wrong(file, id, 'the list of points, whose rows differ,');
  const poles = new Float64Array(3 * countU * countV);
  rows.forEach((row, i) => {
    row.forEach((point, j) => {
      writePoint(file, id, point, poles, 3 * (j * countU + i));
    });
  });
  const surface: BsplineSurface = {
    degreeU: integerOf(file, id, degreeU),
    degreeV: integerOf(file, id, degreeV),
    knotsU: knotsOf(file, id, onceU, timesU, countU),
    knotsV: knotsOf(file, id, onceV, timesV, countV),
    countU,
    countV,
    poles,
  };
  const place = entityPlace(file, id);
  checkKnots(file.input, place, surface.degreeU, surface.knotsU, countU);
  checkKnots(file.input, place, surface.degreeV, surface.knotsV, countV);
  const rational = partOf(records, 'RATIONAL_B_SPLINE_SURFACE');
  if (rational !== undefined) {
    const weights = new Float64Array(countU * countV).fill(Number.NaN);
    const lists = listOf(file, id, rational.values[0], 'the weights');
    if (lists.length !== countU) throw wrong(file, id, 'the list of weights, of another size than the points,');
    lists.forEach((list, i) => {
      const row = numbersOf(file, id, list);
      if (row.length !== countV) throw wrong(file, id, 'the list of weights, of another size than the points,');
      row.forEach((weight, j) => {
        weights[j * countU + i] = weight;
      });
    });
    checkWeights(file.input, place, weights);
    surface.weights = weights;
  }
  return { name, surface };
}

function readCurve(file: StepFile, id: number, records: readonly StepRecord[]): BsplineSet['curves'][number] {
  const { name, values } = valuesOf(records, ['B_SPLINE_CURVE', 'B_SPLINE_CURVE_WITH_KNOTS']);
  const [degree, points, , , , times, once] = values;
  const list = listOf(file, id, points, 'the list of points');
  const poles = new Float64Array(3 * list.length);
  list.forEach((point, i) => {
    writePoint(file, id, point, poles, 3 * i);
  });
  const curve: BsplineCurve = {
    degree: integerOf(file, id, degree),
    knots: knotsOf(file, id, once, times, list.length),
    poles,
  };
  const place = entityPlace(file, id);
  checkKnots(file.input, place, curve.degree, curve.knots, list.length);
  const rational = partOf(records, 'RATIONAL_B_SPLINE_CURVE');
  if (rational !== undefined) {
    const weights = numbersOf(file, id, rational.values[0]);
    if (weights.length !== list.length) throw wrong(file, id, 'the list of weights, of another size than the points,');
    checkWeights(file.input, place, weights);
    curve.weights = weights;
  }
  return { name, curve };
}

function listOf(file: StepFile, id: number, value: StepValue | undefined, what: string): StepValue[] {
  if (!Array.isArray(value) || value.length === 0) throw wrong(file, id, what);
  return value;
}

function numbersOf(file: StepFile, id: number, value: StepValue | undefined): Float64Array {
  const list = listOf(file, id, value, 'a list of numbers');
  return Float64Array.from(list, (item) => {
    if (typeof item !== 'number') throw wrong(file, id, 'a list of numbers');
    return item;
  });
}

function integerOf(file: StepFile, id: number, value: StepValue | undefined): number {
  if (typeof value !== 'number' || !Number.isInteger(value)) throw wrong(file, id, 'a whole number');
  return value;
}

/** Every knot as often as it counts; `count` poles bound how often that can be. */
function knotsOf(
  file: StepFile,
  id: number,
  once: StepValue | undefined,
  times: StepValue | undefined,
  count: number,
): Float64Array {
  const knots = numbersOf(file, id, once);
  const repeats = numbersOf(file, id, times);
  const sum = repeats.reduce((total, value) => total + value, 0);
  const sound = repeats.every((value) => Number.isInteger(value) && value > 0);
  if (!sound || repeats.length !== knots.length || sum > 2 * count + 2) throw wrong(file, id, 'the list of knots');
  return Float64Array.from(Array.from(knots).flatMap((knot, k) => new Array<number>(repeats[k]).fill(knot)));
}

function writePoint(file: StepFile, id: number, value: StepValue, poles: Float64Array, at: number): void {
  const ref = refOf(value);
  if (ref === null) throw wrong(file, id, 'a point');
  const record = stepEntity(file, ref, id)[0];
  if (record.type !== 'CARTESIAN_POINT') throw wrong(file, id, `its point #${ref}, which is a ${record.type},`);
  const coordinates = numbersOf(file, ref, record.values[1]);
  if (coordinates.length !== 3) throw wrong(file, ref, 'a point in space');
  poles.set(coordinates, at);
}
