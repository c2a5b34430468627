import { type Warning, warning } from '../error.ts';
import { loftSections } from '../fit/nominal-blade.ts';
import type { SectionEdgesOptions } from '../fit/section-edges.ts';
import { joined } from '../math/joined.ts';
import type { SectionPoints } from '../model/shape.ts';
import { type Carrier, carryInTangent, carryOnLoft } from './carry-to-height.ts';
import { HOLLOW_POINT, judgePath, SHARP_POINT } from './path-checks.ts';
import { type Lean, leanOfLoft, leanOfVectors, pathColumns, vectorAngle } from './path-lean.ts';
import { type SectionPath, sectionPath } from './section-path.ts';

export interface CompensateOptions extends SectionEdgesOptions {
  /** Radius of the ball (mm). */
  tipRadius: number;
  /** What to do where the path turns tighter than the ball round an edge: throw (the default) or warn. */
  tightEdges?: 'refuse' | 'warn';
  /** Normals of the nominal at the given centres, for a lone section: x0, y0, z0, …, in the order of `pointsOf`. */
  nominalNormals?: Float64Array;
}

/** One section's points moved from the ball's centre onto the part. */
export interface CompensatedSection {
  id: string;
  height: number;
  /** Points on the part where the ball touched, x0, y0, z0, … (mm), in order along the outline. */
  positions: Float64Array;
  /** Unit outward normals there, same layout. */
  normals: Float64Array;
  /** The same points carried along the surface to the section's own height, x0, y0, … (mm). */
  points: Float64Array;
  /** Numbers of the points that are sharp edges. */
  corners: number[];
  path: SectionPath;
}

export interface CompensatedProbe {
  /** All sections' positions and normals, one after the other. */
  positions: Float64Array;
  normals: Float64Array;
  sections: CompensatedSection[];
  warnings: Warning[];
}

/** Angle from which given vectors are called askew (rad). */
const ASKEW = (10 * Math.PI) / 180;
/** Lean of which the warning for a lone section gives the effect (rad). */
const EXAMPLE_LEAN = (5 * Math.PI) / 180;

/**
 * Returns probed points moved from the ball's centres onto the part, along normals in space of the surface on which the
 * centres run. Each section's centres are fitted by a smooth closed path; two or more paths are lofted and the loft's
 * lean gives the third component of the normal. A lone section takes the lean of its own vectors, else of the nominal's
 * normals, else none, with a warning. Noise stays along the normal, because normals are the smooth path's and not the
 * points' own: an edge of radius R is found as R_centre − tip radius without bias.
 *
 * A compensation within the section's plane would leave rho (1 / cos b − 1) too much material where the surface leans
 * by b; the ball touches rho sin b off the plane, and positions keep that height.
 * @param sections rising in height
 * @throws `probe/not-centres` when the points cannot be ball centres
 */
export function compensateProbe(sections: readonly SectionPoints[], options: CompensateOptions): CompensatedProbe {
  const { tipRadius } = options;
  const paths = withOneSide(sections.map((section) => sectionPath(section, options)));
  const judged = paths.map((path) => judgePath(path, tipRadius, options.tightEdges ?? 'refuse'));
  const warnings = judged.flatMap((judgement) => judgement.warnings);
  const surface = paths.length > 1 ? loftSections(paths).surface : null;
  const done = paths.map((path, row): CompensatedSection => {
    const { marks } = judged[row];
    if (surface !== null) {
      const u = pathColumns(surface, row, path);
      const lean = leanOfLoft(surface, u, path);
      warnings.push(...vectorWarnings(sections[row].vectors, lean, path, tipRadius));
      return compensated(path, lean, marks, tipRadius, carryOnLoft(surface, u));
    }
    const vectors = sections[row].vectors ?? options.nominalNormals;
    if (vectors === undefined) warnings.push(noLean(path, tipRadius));
    const lean = vectors ? leanOfVectors(vectors, path) : new Float64Array(path.parameter.length);
    return compensated(path, lean, marks, tipRadius, carryInTangent);
  });
  return {
    positions: joined(done.map((section) => section.positions)),
    normals: joined(done.map((section) => section.normals)),
    sections: done,
    warnings,
  };
}

/** Noise may turn the sides of a symmetric section; what most paths say holds for all, so that the loft does not twist. */
function withOneSide(paths: SectionPath[]): SectionPath[] {
  const suction = paths.filter(({ edges }) => edges.firstSide === 'suction').length;
  const firstSide = 2 * suction > paths.length ? 'suction' : 'pressure';
  return paths.map((path) => ({ ...path, edges: { ...path.edges, firstSide } }));
}

/** Vectors that stand askew to the surface tell of approaches that were not along its normal. */
function vectorWarnings(
  vectors: Float64Array | undefined,
  lean: Lean,
  path: SectionPath,
  tipRadius: number,
): Warning[] {
  const angle = vectors ? vectorAngle(vectors, lean, path) : null;
  if (angle === null || angle < ASKEW) return [];
  const effect = tipRadius * (1 - Math.cos(angle));
  const message = `The vectors stand ${((angle * 180) / Math.PI).toFixed(1)} degrees askew to the surface in the middle; along them the points would lie ${effect.toFixed(4)} mm off. The normals of the path are used.`;
  return [warning('probe/vectors-askew', message, `section ${path.id}`, 'Check what the vectors of the file mean.')];
}

function noLean(path: SectionPath, tipRadius: number): Warning {
  const effect = tipRadius * (1 / Math.cos(EXAMPLE_LEAN) - 1);
  return warning(
    'probe/no-lean',
    `One section alone does not show how the surface leans; it is taken as upright. A lean of 5 degrees would leave ${effect.toFixed(4)} mm too much.`,
    `section ${path.id}`,
    'Probe a second section nearby, give vectors i, j, k with the points, or inspect against a nominal.',
  );
}

function compensated(
  path: SectionPath,
  lean: Lean,
  marks: Uint8Array,
  tipRadius: number,
  carry: Carrier,
): CompensatedSection {
  const positions: number[] = [];
  const normals: number[] = [];
  const points: number[] = [];
  const corners: number[] = [];
  const normal = new Float64Array(3);
  const carried = new Float64Array(2);
  for (let i = 0; i < marks.length; i++) {
    if (marks[i] === HOLLOW_POINT) continue;
    const cos = 1 / Math.sqrt(1 + lean[i] * lean[i]);
    normal[0] = path.normal[2 * i] * cos;
    normal[1] = path.normal[2 * i + 1] * cos;
    normal[2] = -lean[i] * cos;
    const x = path.points[2 * i] - tipRadius * normal[0];
    const y = path.points[2 * i + 1] - tipRadius * normal[1];
    carry(path, i, normal, path.distance[i] * cos - tipRadius, carried);
    positions.push(x, y, path.height - tipRadius * normal[2]);
    normals.push(...normal);
    points.push(...carried);
    if (marks[i] !== SHARP_POINT || marks[i + 1] === SHARP_POINT) continue;
    // All points about a sharp edge touch it: their mean is the edge.
    let count = 1;
    while (count <= i && marks[i - count] === SHARP_POINT) count++;
    for (const [list, size] of [
      [positions, 3],
      [normals, 3],
      [points, 2],
    ] as const) {
      list.push(...meanRow(list.splice(list.length - count * size), size));
    }
    unitLength(normals);
    corners.push(points.length / 2 - 1);
  }
  return {
    id: path.id,
    height: path.height,
    positions: Float64Array.from(positions),
    normals: Float64Array.from(normals),
    points: Float64Array.from(points),
    corners,
    path,
  };
}

function meanRow(rows: readonly number[], size: number): number[] {
  const mean = new Array<number>(size).fill(0);
  for (const [k, value] of rows.entries()) mean[k % size] += (value * size) / rows.length;
  return mean;
}

/** Brings the last normal of a list back to length 1. */
function unitLength(normals: number[]): void {
  const from = normals.length - 3;
  const size = Math.hypot(normals[from], normals[from + 1], normals[from + 2]);
  for (let k = from; k < normals.length; k++) normals[k] /= size;
}
