import type { Box, LengthUnit, Shape } from '../model/shape.ts';
import { type FormatInput, loadError, warn } from './format.ts';
import { INCH } from './units.ts';

/** Largest box side (mm) outside which the unit is doubted. */
const PLAUSIBLE = [5, 1500];

function scale(values: Float64Array, factor: number): void {
  for (let i = 0; i < values.length; i++) values[i] *= factor;
}

/** Converts a shape to millimetres in place. */
export function toMillimetres(shape: Shape, unit: LengthUnit): void {
  if (unit === 'mm') return;
  if (shape.kind !== 'sections') scale(shape.positions, INCH);
  else {
    for (const section of shape.sections) {
      section.height *= INCH;
      scale(section.points, INCH);
      for (const pass of section.again ?? []) scale(pass, INCH);
    }
  }
}

function grow(box: Box, values: Float64Array, stride: 2 | 3): void {
  for (let axis = 0; axis < stride; axis++) {
    let low = box.min[axis];
    let high = box.max[axis];
    for (let i = axis; i < values.length; i += stride) {
      const value = values[i];
      if (value < low) low = value;
      if (value > high) high = value;
    }
    box.min[axis] = low;
    box.max[axis] = high;
  }
}

/** Returns the axis-aligned box of a shape. */
export function boxOf(shape: Shape): Box {
  const far = Number.POSITIVE_INFINITY;
  const box: Box = { min: [far, far, far], max: [-far, -far, -far] };
  if (shape.kind !== 'sections') grow(box, shape.positions, 3);
  else {
    for (const section of shape.sections) {
      grow(box, section.points, 2);
      for (const pass of section.again ?? []) grow(box, pass, 2);
    }
    box.min[2] = shape.sections[0].height;
    box.max[2] = shape.sections[shape.sections.length - 1].height;
  }
  return box;
}

/**
 * Returns the unit to read the numbers in: the file's own statement, else the caller's, else mm. Warns when the caller
 * says otherwise than the file.
 */
export function chooseUnit(input: FormatInput, stated: LengthUnit | null): LengthUnit {
  const { unit } = input.options;
  if (stated !== null && unit !== undefined && unit !== stated) {
    const message = `The file states ${stated}; the unit ${unit} that was asked for is not used.`;
    warn(input, 'load/unit-conflict', message, null, 'Correct the unit in the file if it is wrong.');
  }
  return stated ?? unit ?? 'mm';
}

/** Warns when the shape is too small or too large to be a blade in the unit it was read in. */
export function checkPlausible(input: FormatInput, box: Box, unit: LengthUnit): void {
  const side = Math.max(...box.max.map((high, axis) => high - box.min[axis]));
  if (!Number.isFinite(side)) {
    const message = 'The extent of the shape is beyond the range of numbers.';
    throw loadError(input, 'load/non-finite', message, null, 'Check the coordinates and export the file again.');
  }
  if (side >= PLAUSIBLE[0] && side <= PLAUSIBLE[1]) return;
  const message = `Read in ${unit}, the largest side is ${Number(side.toPrecision(4))} mm.`;
  warn(input, 'load/unit-plausibility', message, null, 'Check the unit of the file.');
}
