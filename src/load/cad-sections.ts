import type { BsplineSurface } from '../model/bspline.ts';
import type { SectionTable } from '../model/shape.ts';
import { surfaceGap } from '../spatial/bspline-closed.ts';
import { bsplineIsoCurve } from '../spatial/bspline-evaluate.ts';
import { type CadContent, polesSize, settleUnit } from './cad-content.ts';
import { levelsOf } from './cad-levels.ts';
import { closedCurvePoints } from './cad-points.ts';
import { type FormatInput, loadError, type ParsedShape } from './format.ts';
import { addRow, finishSections, type RawSection, rawSection } from './section-builder.ts';

/** Largest gap of a closed surface, and largest spread of a plane section's heights, as shares of the size. */
const CLOSED = 1e-6;
const FLAT = 2e-6;
const REMEDY = 'Export the sections as a table, or the blade as a mesh (STL, PLY, OBJ).';

/**
 * Returns the sections of the one closed B-spline surface of a CAD file: at its knots along the height, 400 points or
 * more each, named as the file's curves at those heights.
 * @throws `load/cad-no-surface`, `load/cad-many-surfaces`, `load/cad-bound`, `load/cad-open`, `load/cad-not-level`, `load/cad-sharp`: what
 *   was found instead, and what can be read
 */
export function sectionsOfCad(input: FormatInput, content: CadContent): ParsedShape {
  const { surfaces } = content.set;
  const fail = (code: `load/${string}`, message: string): Error => loadError(input, code, message, null, REMEDY);
  if (surfaces.length !== 1) {
    const message = `The file holds ${foundText(content)}; one closed B-spline surface of a blade can be read.`;
    throw fail(surfaces.length === 0 ? 'load/cad-no-surface' : 'load/cad-many-surfaces', message);
  }
  if (content.bound.length > 0) {
    const message = `The file holds ${foundText(content)} with a ${content.bound.join(', a ')}; a surface that is whole and stands where it is can be read.`;
    throw fail('load/cad-bound', message);
  }
  const unit = settleUnit(content);
  const size = polesSize(surfaces[0].surface);
  const gaps = (['u', 'v'] as const).map((across) => surfaceGap(surfaces[0].surface, across));
  if (!(Math.min(...gaps) <= CLOSED * size)) {
    const message = `The B-spline surface is open: its borders are ${short(gaps[0])} (u) and ${short(gaps[1])} (v) apart; one closed round the blade can be read.`;
    throw fail('load/cad-open', message);
  }
  const surface = gaps[0] <= CLOSED * size ? surfaces[0].surface : turned(surfaces[0].surface);
  const { v, z, spread, followed } = levelsOf(surface, size);
  const ends = Math.abs(z[z.length - 1] - z[0]);
  const rises = z.every((height, k) => k === 0 || (height - z[k - 1]) * (z[1] - z[0]) > 0);
  if (!(spread <= FLAT * size && rises && ends > 0)) {
    const message = `The B-spline surface has no sections at one height each: z runs over ${short(spread)} along a section.`;
    throw fail('load/cad-not-level', message);
  }
  if (!followed) {
    const message = `The B-spline surface bends so sharply over its height that ${v.length} sections do not describe it.`;
    throw fail('load/cad-sharp', message);
  }
  const shape = cutSections(input, content, surface, v, z, FLAT * size);
  const points = shape.sections.reduce((sum, section) => sum + section.points.length / 2, 0);
  return { shape, unit, points, triangles: 0 };
}

function cutSections(
  input: FormatInput,
  content: CadContent,
  surface: BsplineSurface,
  v: readonly number[],
  z: readonly number[],
  near: number,
): SectionTable {
  const raw: RawSection[] = [];
  const taken = new Set<string>();
  for (const k of z[0] < z[z.length - 1] ? v.keys() : [...v.keys()].reverse()) {
    const name = nameAt(content, z[k], near);
    const id = name === '' || taken.has(name) ? `s${raw.length + 1}` : name;
    taken.add(id);
    const section = rawSection(id, z[k], 0);
    const points = closedCurvePoints(bsplineIsoCurve(surface, v[k]));
    for (let i = 0; i < points.length; i += 2) addRow(section, points[i], points[i + 1], z[k], input);
    raw.push(section);
  }
  return finishSections(input, raw);
}

/** Name of a curve that lies at a height, '' when none does. */
function nameAt(content: CadContent, z: number, near: number): string {
  const found = content.set.curves.find(
    ({ name, curve }) => name !== '' && curve.poles.every((value, k) => k % 3 !== 2 || Math.abs(value - z) <= near),
  );
  return found?.name ?? '';
}

/** The same surface with u and v exchanged. */
function turned(surface: BsplineSurface): BsplineSurface {
  const { countU, countV, poles, weights } = surface;
  const place = (i: number, j: number): number => j * countU + i;
  const order = Array.from({ length: countU * countV }, (_, k) => place(Math.floor(k / countV), k % countV));
  return {
    degreeU: surface.degreeV,
    degreeV: surface.degreeU,
    knotsU: surface.knotsV,
    knotsV: surface.knotsU,
    countU: countV,
    countV: countU,
    poles: Float64Array.from(order.flatMap((k) => Array.from(poles.subarray(3 * k, 3 * k + 3)))),
    ...(weights === undefined ? {} : { weights: Float64Array.from(order, (k) => weights[k]) }),
  };
}

function short(value: number): string {
  return String(Number(value.toPrecision(3)));
}

/** What a file holds in plain words, such as "2 B-spline surfaces, 3 planes". */
function foundText({ set, others }: CadContent): string {
  const kinds: [string, number][] = [
    ['B-spline surface', set.surfaces.length],
    ['B-spline curve', set.curves.length],
    ...others,
  ];
  const parts = kinds
    .filter(([, count]) => count > 0)
    .map(([kind, count]) => `${count} ${count === 1 ? kind : plural(kind)}`);
  return parts.length === 0 ? 'no surface' : parts.join(', ');
}

function plural(kind: string): string {
  return kind.startsWith('surface of') ? kind.replace('surface', 'surfaces') : kind === 'torus' ? 'tori' : `${kind}s`;
}
