import type { LengthUnit } from '../model/shape.ts';
import { type FormatInput, loadError } from './format.ts';

/** Millimetres in an inch, exact by definition. */
export const INCH = 25.4;

const WORDS = new Map<string, LengthUnit>();
for (const word of ['mm', 'millimetre', 'millimetres', 'millimeter', 'millimeters']) WORDS.set(word, 'mm');
for (const word of ['inch', 'inches', 'in']) WORDS.set(word, 'inch');
const OTHER = /^(m|cm|dm|nm|um|µm|μm|microns?|micromet(re|er)s?|(centi)?met(re|er)s?|ft|foot|feet|mils?|thou|yards?)$/;

/** What a file has said of its unit so far. */
export interface UnitNote {
  unit: LengthUnit | null;
}

/** True for a word that names a unit of length. */
export function isUnitWord(word: string): boolean {
  return WORDS.has(word.toLowerCase()) || OTHER.test(word.toLowerCase());
}

/**
 * Returns the unit a word names; null for a word that names none.
 *
 * @throws `load/unit-unknown` for a unit other than mm and inch
 */
export function lengthUnitOf(input: FormatInput, word: string, place: string | null): LengthUnit | null {
  const lower = word.toLowerCase();
  const unit = WORDS.get(lower);
  if (unit !== undefined) return unit;
  if (!OTHER.test(lower)) return null;
  const message = `The file states the unit "${word}"; millimetres and inches are read.`;
  throw loadError(input, 'load/unit-unknown', message, place, 'Write the file in mm or inch.');
}

/**
 * Takes down a unit word; words that name no unit are passed over.
 *
 * @throws `load/unit-unknown` for a unit other than mm and inch, `load/unit-conflict` for a second, different one
 */
export function noteUnitWord(input: FormatInput, note: UnitNote, word: string, place: string | null): void {
  const unit = lengthUnitOf(input, word, place);
  if (unit === null) return;
  if (note.unit !== null && note.unit !== unit) {
    const message = `The file states two units, ${note.unit} and ${unit}.`;
    throw loadError(input, 'load/unit-conflict', message, place, 'Write all lengths of the file in one unit.');
  }
  note.unit = unit;
}

const STATED =
  /(?:\bunits?\b["']?\s*(?:[:=]|\bis\b|\bare\b)?|\b(?:values|lengths?|coordinates|dimensions|all)\b.*?\s(?=in\s))\s*(?:in\s+)?["'([]?\s*([a-zµμ]+)/i;

/** Takes down the unit a comment states, such as `units: mm`, `unit = inch` or `coordinates in mm`. */
export function noteUnitText(input: FormatInput, note: UnitNote, text: string, place: string | null): void {
  const bare = text.trim();
  const word = /^[a-zµμ]{2,12}$/i.test(bare) ? bare : STATED.exec(text)?.[1];
  if (word !== undefined) noteUnitWord(input, note, word, place);
}
