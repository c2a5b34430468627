import { CamberwrightError, type Warning, warning } from './error.ts';
import { pointsOf } from './inputs.ts';
import { joined } from './math/joined.ts';
import { POINT_USED, type Relation } from './model/relation.ts';
import type { ScanDifference } from './model/results.ts';
import type { Cloud, LoadedShape, SectionTable } from './model/shape.ts';
import { compareScans, scanWarnings } from './probe/compare-scans.ts';
import { compensatePoints } from './probe/compensate-points.ts';
import { type CompensatedProbe, compensateProbe } from './probe/compensate-probe.ts';
import { offsetWarning } from './probe/constant-offset.ts';
import { type ProbeReading, probeReading } from './probe/probe-reading.ts';
import { sectionPath } from './probe/section-path.ts';
import type { InspectSettings } from './settings.ts';

export type ProbeSettings = Pick<InspectSettings, 'probe' | 'leadingEdgeTowards'>;

/** One measured file's share of all points. */
export interface ProbedFile {
  name: string;
  reading: ProbeReading | null;
  /** Numbers of its first point and of the one after its last. */
  from: number;
  to: number;
}

/** The points of all measured files, ball centres moved onto the part. */
export interface ProbedPoints {
  /** x0, y0, z0, … (mm). */
  positions: Float64Array;
  files: ProbedFile[];
  scans: ScanDifference[];
  warnings: Warning[];
  /** True while centres that lie on no surface of their own wait for the nominal's normals. */
  waiting: boolean;
  /** Set when points read as centres look as if they were none; thrown where the part then cannot be placed. */
  doubt: CamberwrightError | null;
}

/** The nominal's normals at the points that waited for them. */
export interface NominalNormals {
  normals: Float64Array;
  files: readonly ProbedFile[];
}

/**
 * Returns the points of the measured files, those that are ball centres moved onto the part. A lone section and a cloud
 * without vectors stay where they are until the nominal's normals are given.
 * @throws `probe/…` for a tip radius that is missing or absurd, and for sides that cross when compensated
 */
export function probedPoints(
  measured: readonly LoadedShape[],
  settings: ProbeSettings,
  nominal: NominalNormals | null = null,
): ProbedPoints {
  const parts: Float64Array[] = [];
  const result: Omit<ProbedPoints, 'positions'> = { files: [], scans: [], warnings: [], waiting: false, doubt: null };
  let from = 0;
  for (const [k, file] of measured.entries()) {
    const { reading, warnings } = probeReading(settings.probe, file.probe, file.name);
    result.warnings.push(...warnings);
    const waited = nominal?.files[k];
    const normals = waited && nominal?.normals.subarray(3 * waited.from, 3 * waited.to);
    const points = pointsOfFile(file, reading, settings, normals, result);
    parts.push(points);
    result.files.push({ name: file.name, reading, from, to: from + points.length / 3 });
    from += points.length / 3;
  }
  return { ...result, positions: joined(parts) };
}

function pointsOfFile(
  file: LoadedShape,
  reading: ProbeReading | null,
  settings: ProbeSettings,
  normals: Float64Array | undefined,
  result: Omit<ProbedPoints, 'positions'>,
): Float64Array {
  const { shape, name } = file;
  const isCentres = reading?.points === 'centres';
  if (shape.kind === 'mesh') {
    if (isCentres) result.warnings.push(meshWarning(name));
    return shape.positions;
  }
  const tipRadius = isCentres ? reading.tipRadius : null;
  if (tipRadius === null) {
    if (shape.kind === 'sections') addScans(result, passesOf(shape, settings), name);
    return pointsOf(shape);
  }
  if (shape.kind === 'cloud') {
    const vectors = shape.normals ?? normals;
    if (vectors !== undefined) return compensatePoints(shape.positions, vectors, tipRadius);
    result.waiting = true;
    return shape.positions;
  }
  if (shape.sections.length === 1 && shape.sections[0].vectors === undefined && normals === undefined) {
    result.waiting = true;
    return pointsOf(shape);
  }
  const done = compensateProbe(shape.sections, {
    tipRadius,
    leadingEdgeTowards: settings.leadingEdgeTowards,
    tightEdges: 'warn',
    ...(normals === undefined ? {} : { nominalNormals: normals }),
  });
  const doubt = done.warnings.find(({ code }) => code === 'probe/not-centres');
  if (doubt !== undefined) {
    const details = { where: `${name}, ${doubt.where}`, remedy: doubt.remedy ?? '' };
    result.doubt ??= new CamberwrightError('probe/not-centres', doubt.message, details);
  }
  result.warnings.push(...named(done.warnings, name));
  addScans(result, scansOf(done), name);
  return done.positions;
}

/**
 * Returns a shape's sections moved from ball centres onto the part, null for a shape whose points are none. Adds what
 * was found to `warnings`.
 * @throws `probe/not-centres`, `probe/tip-radius`; `probe/no-path` for a cloud of centres without vectors
 */
export function compensatedSections(
  file: LoadedShape,
  settings: ProbeSettings,
  warnings: Warning[],
): CompensatedProbe | Cloud | null {
  const { reading, warnings: found } = probeReading(settings.probe, file.probe, file.name);
  warnings.push(...found);
  const { shape, name } = file;
  if (reading?.points !== 'centres' || reading.tipRadius === null) return null;
  const { tipRadius } = reading;
  if (shape.kind === 'mesh') {
    warnings.push(meshWarning(name));
    return null;
  }
  if (shape.kind === 'cloud') {
    if (shape.normals === undefined) throw noPath(name);
    return { kind: 'cloud', positions: compensatePoints(shape.positions, shape.normals, tipRadius) };
  }
  const done = compensateProbe(shape.sections, { tipRadius, leadingEdgeTowards: settings.leadingEdgeTowards });
  warnings.push(...named(done.warnings, name));
  return done;
}

/** Returns how the passes of compensated sections differ. */
export function scansOf(done: CompensatedProbe): ScanDifference[] {
  return done.sections.flatMap(({ path }) => compareScans(path));
}

/** Returns how the passes over a table's sections differ where there is more than one. */
export function passesOf(table: SectionTable, settings: ProbeSettings): ScanDifference[] {
  return table.sections
    .filter((section) => section.again !== undefined)
    .flatMap((section) => compareScans(sectionPath(section, settings)));
}

/** Returns the warnings for files that lie off the nominal by what a wrong compensation leaves. */
export function offsetWarnings(probed: ProbedPoints, relation: Relation): Warning[] {
  return probed.files.flatMap(({ name, reading, from, to }) => {
    if (reading === null) return [];
    const used = relation.deviation.subarray(from, to).filter((_, i) => relation.flag[from + i] === POINT_USED);
    return offsetWarning(used, reading, name) ?? [];
  });
}

function addScans(result: Omit<ProbedPoints, 'positions'>, scans: ScanDifference[], name: string): void {
  result.scans.push(...scans);
  result.warnings.push(...scanWarnings(scans, name));
}

function named(warnings: readonly Warning[], name: string): Warning[] {
  return warnings.map((each) => ({ ...each, where: each.where === null ? name : `${name}, ${each.where}` }));
}

function meshWarning(name: string): Warning {
  const message = 'A mesh is the surface itself; it is not moved by the tip radius.';
  return warning('probe/mesh', message, name, 'Give probed points as a section table or as points.');
}

function noPath(name: string): CamberwrightError {
  const message = 'Ball centres without order or vectors do not show which way the surface lies.';
  return new CamberwrightError('probe/no-path', message, {
    where: name,
    remedy: 'Give them as sections in order, or with vectors i, j, k, or inspect them against a nominal.',
  });
}
