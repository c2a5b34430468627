import type { Format } from './format.ts';
import { iges } from './iges-format.ts';
import { obj } from './obj.ts';
import { plyBinary } from './ply-binary.ts';
import { plyText } from './ply-text.ts';
import { step } from './step-format.ts';
import { stlBinary } from './stl-binary.ts';
import { stlText } from './stl-text.ts';
import { table } from './table.ts';

/** All formats, in the order they are tried; the first whose `sniff` agrees reads the file. */
export const FORMATS: readonly Format[] = [plyBinary, plyText, stlBinary, stlText, step, iges, obj, table];

/** What can be opened, in plain words. */
export const acceptedFormats: readonly string[] = FORMATS.map((format) => format.words);
