import type { LoftSection } from '../fit/loft-surface.ts';
import { loftSections, type NominalBlade } from '../fit/nominal-blade.ts';
import { evaluateOutline, outlineKnotSpans, sampleOutline } from '../fit/outline-evaluate.ts';
import { outlineFoot } from '../fit/outline-foot.ts';
import { findSectionEdges } from '../fit/section-edges.ts';
import type { Outline } from '../model/outline.ts';
import type { Mesh, SectionTable } from '../model/shape.ts';
import type { NominalSurface } from '../model/surface.ts';
import { tessellateSurface } from '../spatial/nominal-target.ts';
import { evaluateSurface, intervalOf, PLACE_SIZE, placeNormal } from '../spatial/surface-evaluate.ts';

/** An adapted outline at its height, and the outline it came from. */
export interface AdaptedOutline {
  id: string;
  height: number;
  outline: Outline;
  nominal: Pick<LoftSection, 'outline' | 'edges'>;
}

/** Height between rows of the adapted mesh (mm). */
const ROW = 1;

/** Returns the adapted sections as a blade that stands wherever a nominal one does. */
export function adaptedBlade(sections: readonly AdaptedOutline[]): NominalBlade {
  return loftSections(
    sections.map(({ id, height, outline, nominal }): LoftSection => {
      const at = (t: number): [number, number] => {
        evaluateOutline(nominal.outline, t, out);
        return [out[0], out[1]];
      };
      const hint = { leading: at(nominal.edges.leading), trailing: at(nominal.edges.trailing) };
      const edges = findSectionEdges(outline, { hint });
      return { id, height, outline, edges: { ...edges, firstSide: nominal.edges.firstSide } };
    }),
  );
}

const out = new Float64Array(8);

/** Returns the sections of a blade as points that lie on them exactly, dense enough to give them back. */
export function bladeTable(blade: NominalBlade): SectionTable {
  return {
    kind: 'sections',
    sections: blade.sections.map(({ id, height, outline }) => ({
      id,
      height,
      points: sampleOutline(outline, outlineKnotSpans(outline)),
    })),
  };
}

/** Returns the surface of a blade as triangles. */
export function bladeMesh(blade: NominalBlade): Mesh {
  const { heights } = blade.surface;
  const low = heights[0];
  const span = heights[heights.length - 1] - low;
  const rows = Math.max(2, Math.ceil(span / ROW) + 1);
  return tessellateSurface(
    blade.surface,
    Float64Array.from({ length: rows }, (_, i) => low + (span * i) / (rows - 1)),
  ).mesh;
}

/** A value at the crossings of sections and columns of the nominal surface, row-major. */
export interface SurfaceTable {
  heights: Float64Array;
  columns: Float64Array;
  value: Float64Array;
}

/** Returns a table's value at a place, linear between its crossings. */
export function tableAt({ heights, columns, value }: SurfaceTable, u: number, height: number): number {
  const c = intervalOf(columns, Math.min(Math.max(u, columns[0]), columns[columns.length - 1]));
  const r = intervalOf(heights, Math.min(Math.max(height, heights[0]), heights[heights.length - 1]));
  const s = Math.min(Math.max((u - columns[c]) / (columns[c + 1] - columns[c]), 0), 1);
  const t = Math.min(Math.max((height - heights[r]) / (heights[r + 1] - heights[r]), 0), 1);
  const n = columns.length;
  const row = (k: number) => (1 - s) * value[k * n + c] + s * value[k * n + c + 1];
  return (1 - t) * row(r) + t * row(r + 1);
}

/** Returns how far adapted sections lie outside the nominal surface, along its normal (mm, positive outside). */
export function departures(surface: NominalSurface, sections: readonly AdaptedOutline[]): SurfaceTable {
  const { columns } = surface;
  const place = new Float64Array(PLACE_SIZE);
  const normal = new Float64Array(3);
  const value = new Float64Array(sections.length * columns.length);
  sections.forEach(({ outline, height }, r) => {
    for (let c = 0; c < columns.length; c++) {
      evaluateSurface(surface, columns[c], height, place);
      placeNormal(surface, place, normal);
      const foot = outlineFoot(outline, place[0], place[1]);
      value[r * columns.length + c] = -foot.distance * Math.hypot(normal[0], normal[1]);
    }
  });
  return { heights: Float64Array.from(sections, ({ height }) => height), columns, value };
}
