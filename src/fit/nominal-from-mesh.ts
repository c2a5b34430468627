import { CamberwrightError, type Warning, warning } from '../error.ts';
import { identityPose } from '../math/rigid.ts';
import type { RunContext } from '../model/context.ts';
import type { Outline } from '../model/outline.ts';
import type { Mesh } from '../model/shape.ts';
import { relatePoints } from '../relate/relate-points.ts';
import { pointsByHeight, slabPoints } from '../section/slab-points.ts';
import { sliceMesh } from '../section/slice-mesh.ts';
import { makeNominalTarget } from '../spatial/nominal-target.ts';
import { type AerofoilSpan, aerofoilSpan, loopArea } from './aerofoil-span.ts';
import { fitOutline } from './fit-outline.ts';
import type { LoftSection } from './loft-surface.ts';
import { exactOutline, loftSections, type NominalBlade } from './nominal-blade.ts';
import { findSectionEdges, type SectionEdgesOptions } from './section-edges.ts';
import { shiftedOutline } from './shift-outline.ts';

/** Fewest vertices at one height that count as a row of the mesh. */
const ROW_POINTS = 40;
/** Rows wanted of a mesh whose vertices lie in rows, and sections of one whose vertices do not. */
const MOST_ROWS = 61;
const LEAST_ROWS = 5;
const SECTIONS = 31;
/** Vertices at heights closer than this share of the span are in one row. */
const SAME_HEIGHT = 1e-7;
/** The first, faceted sections keep this share of the span away from its ends. */
const INSET = 0.004;
/** Rounds of relating the vertices and shifting the sections to them. */
const ROUNDS = 2;

/**
 * Returns the nominal blade of a mesh: a smooth surface through its vertices, free of facet error. Where the vertices
 * lie in rows of equal height the rows are the sections. Otherwise the mesh is cut into faceted sections, smoothed and
 * lofted; its vertices are related to that surface and shift its sections to themselves, and this is repeated. Root block,
 * platform and fillet are left out.
 * @throws shape/no-closed-section when the mesh holds no run of closed sections along Z
 */
export async function nominalFromMesh(
  mesh: Mesh,
  options: SectionEdgesOptions,
  context: RunContext,
): Promise<NominalBlade> {
  const span = aerofoilSpan(mesh);
  const rows = vertexRows(mesh, span);
  if (rows.length >= LEAST_ROWS && coversSpan(rows, span)) {
    return loftSections(sectionsAt(mesh, thin(rows), options, span, exactOutline));
  }
  return fitThroughVertices(mesh, span, options, context);
}

/** Heights within the span at which many vertices lie, rising. */
function vertexRows(mesh: Mesh, span: AerofoilSpan): number[] {
  const { positions } = mesh;
  const heights = new Float64Array(positions.length / 3);
  for (let i = 0; i < heights.length; i++) heights[i] = positions[3 * i + 2];
  heights.sort();
  const same = SAME_HEIGHT * (span.to - span.from);
  const rows: number[] = [];
  let from = 0;
  for (let i = 1; i <= heights.length; i++) {
    if (i < heights.length && heights[i] - heights[from] <= same) continue;
    if (i - from >= ROW_POINTS && heights[from] >= span.from - same && heights[from] <= span.to + same) {
      rows.push(heights[from]);
    }
    from = i;
  }
  return rows;
}

function coversSpan(rows: readonly number[], span: AerofoilSpan): boolean {
  const length = span.to - span.from;
  let gap = Math.max(rows[0] - span.from, span.to - rows[rows.length - 1]);
  for (let i = 1; i < rows.length; i++) gap = Math.max(gap, rows[i] - rows[i - 1]);
  return gap < 0.26 * length;
}

function thin(rows: readonly number[]): number[] {
  if (rows.length <= MOST_ROWS) return [...rows];
  return Array.from({ length: MOST_ROWS }, (_, i) => rows[Math.round((i * (rows.length - 1)) / (MOST_ROWS - 1))]);
}

/** Sections through the mesh's cuts at the heights; the very ends are cut a hair inside. */
function sectionsAt(
  mesh: Mesh,
  heights: readonly number[],
  options: SectionEdgesOptions,
  span: AerofoilSpan,
  outlineOf: (points: Float64Array) => Outline,
): LoftSection[] {
  const hair = 1e-9 * (span.to - span.from);
  const cuts = sliceMesh(
    mesh,
    Float64Array.from(heights, (h) => Math.min(Math.max(h, span.from + hair), span.to - hair)),
  );
  return heights.map((height, i) => {
    const loops = cuts[i].filter((loop) => loop.closed).sort((a, b) => loopArea(b.points) - loopArea(a.points));
    if (loops.length === 0) {
      throw new CamberwrightError('shape/no-closed-section', 'A cut through the mesh gives no closed outline.', {
        where: `height ${height.toFixed(3)} mm`,
        remedy: 'Close the holes of the blade surface, or give a section table.',
      });
    }
    const outline = outlineOf(withoutShortSteps(loops[0].points));
    return { id: `z${Number(height.toFixed(3))}`, height, outline, edges: findSectionEdges(outline, options) };
  });
}

/** Drops points that follow the one before far closer than the steps beside it: cuts near a vertex. */
function withoutShortSteps(points: Float64Array): Float64Array {
  const count = points.length / 2;
  const step = (i: number): number => {
    const j = (i + 1) % count;
    return Math.hypot(points[2 * j] - points[2 * i], points[2 * j + 1] - points[2 * i + 1]);
  };
  const steps = Float64Array.from({ length: count }, (_, i) => step(i));
  const kept: number[] = [];
  for (let i = 0; i < count; i++) {
    const before = steps[(i + count - 1) % count];
    const beside = Math.max(steps[i], steps[(i + count - 2) % count]);
    if (before < 1e-4 * beside) continue;
    kept.push(points[2 * i], points[2 * i + 1]);
  }
  return Float64Array.from(kept);
}

async function fitThroughVertices(
  mesh: Mesh,
  span: AerofoilSpan,
  options: SectionEdgesOptions,
  context: RunContext,
): Promise<NominalBlade> {
  const inset = INSET * (span.to - span.from);
  const heights = Array.from(
    { length: SECTIONS },
    (_, i) => span.from + inset + ((span.to - span.from - 2 * inset) * i) / (SECTIONS - 1),
  );
  const warnings: Warning[] = [];
  let blade = loftSections(
    sectionsAt(mesh, heights, options, span, (points) => fitOutline(points, { robust: false }).outline),
  );
  const spacing = heights[1] - heights[0];
  for (let round = 0; round < ROUNDS; round++) {
    const target = makeNominalTarget(blade.surface);
    const relation = await relatePoints(target, mesh.positions, identityPose(), { gate: spacing / 4 }, context);
    const sorted = pointsByHeight(relation);
    let sparse = 0;
    const sections = blade.sections.map((section): LoftSection => {
      const slab = { halfThickness: spacing / 4, points: 2000, mostHalfThickness: spacing };
      const { pick } = slabPoints(sorted, section.height, slab);
      if (pick.length < ROW_POINTS) {
        sparse++;
        return section;
      }
      const outline = shiftedOutline(blade.surface, relation, pick, section.height);
      return { ...section, outline, edges: findSectionEdges(outline, options) };
    });
    if (sparse > 0) {
      warnings.push(
        warning(
          'fit/faceted-nominal',
          `${sparse} of ${sections.length} sections of the nominal mesh hold too few vertices; they keep their facets.`,
          'nominal',
          'Export the nominal with finer triangles, or as a section table.',
        ),
      );
      break;
    }
    blade = loftSections(sections);
  }
  return { ...blade, warnings: [...blade.warnings, ...warnings] };
}
