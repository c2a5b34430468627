import type { BsplineCurve, BsplineSet, BsplineSurface } from '../model/bspline.ts';
import { bsplineDomain, curveGap, surfaceGap } from '../spatial/bspline-closed.ts';
import { globalLines, igesLine, igesReal, igesString, parameterLines } from './iges-records.ts';
import type { CadFileOptions } from './step-write.ts';

/** Distance up to which two places are the same (mm); the file states it. */
const RESOLUTION = 1e-6;
const MM_IN_INCH = 25.4;

export interface IgesOptions extends CadFileOptions {
  /** Unit of the numbers; absent: mm. In inch they are rounded once. */
  unit?: 'mm' | 'inch';
}

interface Entity {
  type: 126 | 128;
  label: string;
  parameters: string[];
}

/**
 * Returns surfaces and curves as an IGES 5.3 file: entities 128 and 126 in records of 80 columns, numbers in double
 * precision in the shortest form that reads back equal.
 */
export function igesText(set: BsplineSet, options: IgesOptions): string {
  const scale = options.unit === 'inch' ? 1 / MM_IN_INCH : 1;
  const entities: Entity[] = [
    ...set.surfaces.map(
      ({ name, surface }): Entity => ({
        type: 128,
        label: name,
        parameters: surfaceParameters(surface, scale),
      }),
    ),
    ...set.curves.map(
      ({ name, curve }): Entity => ({
        type: 126,
        label: name,
        parameters: curveParameters(curve, scale),
      }),
    ),
  ];
  const directory: string[] = [];
  const parameters: string[] = [];
  for (const { type, label, parameters: values } of entities) {
    const entry = directory.length + 1;
    const lines = parameterLines([String(type), ...values], entry, parameters.length + 1);
    const first = [type, parameters.length + 1, 0, 0, 0, 0, 0, 0];
    directory.push(igesLine(`${eights(first)}${'0'.repeat(8)}`, 'D', entry));
    directory.push(
      igesLine(`${eights([type, 0, 0, lines.length, 0])}${' '.repeat(16)}${labelText(label)}`, 'D', entry + 1),
    );
    parameters.push(...lines);
  }
  const start = [igesLine('Aerofoil surface and sections', 'S', 1)];
  const global = globalLines(globalParameters(set, options, scale));
  const counts = [
    ['S', start],
    ['G', global],
    ['D', directory],
    ['P', parameters],
  ] as const;
  const end = igesLine(
    counts.map(([letter, lines]) => `${letter}${String(lines.length).padStart(7)}`).join(''),
    'T',
    1,
  );
  return `${[...start, ...global, ...directory, ...parameters, end].join('\n')}\n`;
}

const eights = (values: readonly number[]): string => values.map((value) => String(value).padStart(8)).join('');

/** The entity's label in 8 columns and its subscript. */
function labelText(name: string): string {
  const plain = Array.from(name, (c) => (c >= ' ' && c <= '~' ? c : '?')).join('');
  return `${plain.slice(0, 8).padStart(8)}${'0'.padStart(8)}`;
}

function globalParameters(set: BsplineSet, options: IgesOptions, scale: number): string[] {
  let largest = 0;
  for (const { poles } of [...set.surfaces.map((each) => each.surface), ...set.curves.map((each) => each.curve)]) {
    for (const value of poles) largest = Math.max(largest, Math.abs(value * scale));
  }
  const name = igesString(options.name);
  const digits = options.timestamp.replace(/[^0-9]/g, '').padEnd(14, '0');
  const date = igesString(`${digits.slice(0, 8)}.${digits.slice(8, 14)}`);
  const unit = options.unit === 'inch' ? ['1', igesString('IN')] : ['2', igesString('MM')];
  const system = igesString('Camberwright');
  // Separators, sender, file, system, version, number ranges, receiver, scale, unit, line widths, date, resolution,
  // largest coordinate, author, organisation, version 5.3, drafting standard, date of the model, protocol.
  return [
    ...[igesString(','), igesString(';'), name, name, system, system, '32', '38', '6', '308', '15', name, '1.0'],
    ...[...unit, '1', '0.0', date, igesReal(RESOLUTION * scale), igesReal(largest), '', '', '11', '0', date, ''],
  ];
}

function numbers(values: Float64Array, scale = 1): string[] {
  return Array.from(values, (value) => igesReal(scale === 1 ? value : value * scale));
}

const flag = (value: boolean): string => (value ? '1' : '0');

/** Weights, which a polynomial has too: ones. */
function weightsOf(weights: Float64Array | undefined, count: number): string[] {
  return weights === undefined ? new Array<string>(count).fill('1.0D0') : numbers(weights);
}

function surfaceParameters(surface: BsplineSurface, scale: number): string[] {
  const { degreeU, degreeV, knotsU, knotsV, countU, countV, poles, weights } = surface;
  const [closedU, closedV] = (['u', 'v'] as const).map((across) => flag(surfaceGap(surface, across) <= RESOLUTION));
  return [
    ...[countU - 1, countV - 1, degreeU, degreeV].map(String),
    ...[closedU, closedV, flag(weights === undefined), '0', '0'],
    ...numbers(knotsU),
    ...numbers(knotsV),
    ...weightsOf(weights, countU * countV),
    ...numbers(poles, scale),
    ...[...bsplineDomain(knotsU, degreeU), ...bsplineDomain(knotsV, degreeV)].map(igesReal),
  ];
}

function curveParameters(curve: BsplineCurve, scale: number): string[] {
  const { degree, knots, poles, weights } = curve;
  const count = poles.length / 3;
  const level = poles.every((value, k) => k % 3 !== 2 || value === poles[2]);
  return [
    ...[count - 1, degree].map(String),
    ...[flag(level), flag(curveGap(curve) <= RESOLUTION), flag(weights === undefined), '0'],
    ...numbers(knots),
    ...weightsOf(weights, count),
    ...numbers(poles, scale),
    ...bsplineDomain(knots, degree).map(igesReal),
    ...[0, 0, level ? 1 : 0].map(igesReal),
  ];
}
