import { loadError } from './format.ts';
import type { StepFile } from './step-parse.ts';
import { entityPlace, type StepRecord, type StepValue, stepEntity } from './step-values.ts';
import { INCH } from './units.ts';

/** Powers of ten of the prefixes of SI units. */
const PREFIXES: Record<string, number> = {
  EXA: 18,
  PETA: 15,
  TERA: 12,
  GIGA: 9,
  MEGA: 6,
  KILO: 3,
  HECTO: 2,
  DECA: 1,
  DECI: -1,
  CENTI: -2,
  MILLI: -3,
  MICRO: -6,
  NANO: -9,
  PICO: -12,
  FEMTO: -15,
  ATTO: -18,
};
/** Units made of units of units … no file goes deeper. */
const DEEPEST = 8;

/** The record of a type among the parts of an entity. */
export function partOf(records: readonly StepRecord[], type: string): StepRecord | undefined {
  return records.find((record) => record.type === type);
}

export function refOf(value: StepValue | undefined): number | null {
  return typeof value === 'object' && value !== null && 'ref' in value ? value.ref : null;
}

/**
 * Returns the millimetres in the file's unit of length, from its contexts; null when it states none.
 * @throws `load/unit-conflict` for two units, `load/unit-unknown` for one that cannot be followed
 */
export function stepMillimetres(file: StepFile): number | null {
  let stated: number | null = null;
  for (const [id, { type }] of file.entities) {
    if (type !== '' && type !== 'GLOBAL_UNIT_ASSIGNED_CONTEXT') continue;
    const context = partOf(stepEntity(file, id), 'GLOBAL_UNIT_ASSIGNED_CONTEXT');
    const units = context?.values[context.values.length - 1];
    if (!Array.isArray(units)) continue;
    for (const unit of units) {
      const ref = refOf(unit);
      const size = ref === null ? null : lengthIn(file, ref, id, 0);
      if (size === null) continue;
      if (stated !== null && Math.abs(size - stated) > 1e-12 * size) {
        const message = `The file states two units of length, of ${stated} mm and of ${size} mm.`;
        const remedy = 'Write all shapes of the file in one unit.';
        throw loadError(file.input, 'load/unit-conflict', message, entityPlace(file, id), remedy);
      }
      stated ??= size;
    }
  }
  return stated;
}

/** Millimetres in a unit, null when it is none of length. */
function lengthIn(file: StepFile, id: number, from: number, depth: number): number | null {
  const records = stepEntity(file, id, from);
  if (partOf(records, 'LENGTH_UNIT') === undefined) return null;
  const si = partOf(records, 'SI_UNIT');
  if (si !== undefined) {
    const [prefix, name] = si.values.slice(-2).map((value) => wordOf(value));
    const power = prefix === null ? 0 : PREFIXES[prefix];
    if (name === 'METRE' && power !== undefined) return power <= -3 ? 1 / 10 ** (-3 - power) : 10 ** (power + 3);
  }
  const converted = partOf(records, 'CONVERSION_BASED_UNIT');
  const measure = converted === undefined ? null : refOf(converted.values[1]);
  if (measure !== null && depth < DEEPEST) {
    const [amount, unit] = stepEntity(file, measure, id)[0].values;
    const typed = typeof amount === 'object' && amount !== null && !Array.isArray(amount) && 'values' in amount;
    const number = typed ? amount.values[0] : amount;
    const ref = refOf(unit);
    const base = ref === null ? null : lengthIn(file, ref, measure, depth + 1);
    if (typeof number === 'number' && number > 0 && base !== null) return wholeInch(number * base);
  }
  const message = 'The unit of length cannot be followed to metres.';
  throw loadError(file.input, 'load/unit-unknown', message, entityPlace(file, id), 'Write the file in mm or inch.');
}

function wordOf(value: StepValue): string | null {
  return typeof value === 'object' && value !== null && 'word' in value ? value.word : null;
}

/** An inch that was written as a rounded number of another unit. */
function wholeInch(millimetres: number): number {
  return Math.abs(millimetres - INCH) < 1e-9 ? INCH : millimetres;
}
