import type { LengthUnit, ProbeStatement } from '../model/shape.ts';
import { type FormatInput, loadError } from './format.ts';
import { INCH, lengthUnitOf } from './units.ts';

/** What the comments of a file have said of its probed points so far. */
export interface ProbeNote {
  points: 'centres' | 'compensated' | null;
  /** In `tipUnit`, or in the file's unit where that is null. */
  tipRadius: number | null;
  tipUnit: LengthUnit | null;
}

const TIP =
  /\b(?:tip|ball|stylus|probe|sphere)[\s_-]*(radius|diameter)\b["']?\s*[:=]?\s*["']?([+-]?\d*[.,]?\d+(?:e[+-]?\d+)?)\s*([a-zµμ]*)/i;
const CENTRES = /\b(?:ball|tip|sphere|stylus|probe)[\s_-]*(?:tip[\s_-]*)?cent(?:re|er)s?\b|^cent(?:re|er)s$/i;
const POINTS = /^\W*(?:probe[\s_-]*)?points?\b["']?\s*(?:[:=]|\bare\b)\s*["']?(.*?)["'\s]*$/i;

/**
 * Takes down what a comment says of probed points: `points: ball centres`, `points: compensated` (or `contact points`),
 * `tip radius: 1 mm`, `tip diameter = 2`.
 * @throws `load/probe-conflict` when the file says two different things
 */
export function noteProbeText(input: FormatInput, note: ProbeNote, text: string, place: string | null): void {
  const said = POINTS.exec(text)?.[1];
  if (said !== undefined) {
    const isCentres = CENTRES.test(said);
    const isUncompensated = /\b(?:un|not\s+)compensated\b/i.test(said);
    if (isCentres || isUncompensated) takePoints(input, note, 'centres', place);
    else if (/\bcompensated\b|\bcontact\b/i.test(said)) takePoints(input, note, 'compensated', place);
  }
  const tip = TIP.exec(text);
  if (tip === null) return;
  const size = Number(tip[2].replace(',', '.'));
  const radius = tip[1].toLowerCase() === 'diameter' ? size / 2 : size;
  const unit = lengthUnitOf(input, tip[3] ?? '', place);
  if (note.tipRadius !== null && (note.tipRadius !== radius || note.tipUnit !== unit)) {
    throw conflict(input, 'tip radii', String(note.tipRadius), String(radius), place);
  }
  note.tipRadius = radius;
  note.tipUnit = unit;
}

function takePoints(
  input: FormatInput,
  note: ProbeNote,
  points: 'centres' | 'compensated',
  place: string | null,
): void {
  if (note.points !== null && note.points !== points) {
    throw conflict(input, 'kinds of points', note.points, points, place);
  }
  note.points = points;
}

function conflict(input: FormatInput, what: string, first: string, second: string, place: string | null): Error {
  const message = `The file states two ${what}, ${first} and ${second}.`;
  return loadError(input, 'load/probe-conflict', message, place, 'Keep one of the two statements in the file.');
}

/** Returns the statement in millimetres; null when the file says nothing. */
export function probeStatement(note: ProbeNote, unit: LengthUnit): ProbeStatement | null {
  if (note.points === null && note.tipRadius === null) return null;
  const scale = (note.tipUnit ?? unit) === 'inch' ? INCH : 1;
  return {
    ...(note.points === null ? {} : { points: note.points }),
    ...(note.tipRadius === null ? {} : { tipRadius: note.tipRadius * scale }),
  };
}
