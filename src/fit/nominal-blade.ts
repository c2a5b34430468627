import { CamberwrightError, type Warning, warning } from '../error.ts';
import type { Outline } from '../model/outline.ts';
import type { SectionTable } from '../model/shape.ts';
import type { NominalSurface } from '../model/surface.ts';
import { prepareSection } from '../section/prepare-section.ts';
import { findCorners } from './corners.ts';
import { interpolateOutline } from './interpolate-outline.ts';
import { type LoftSection, loftSurface } from './loft-surface.ts';
import { findSectionEdges, type SectionEdgesOptions } from './section-edges.ts';

/** The nominal blade: its smooth surface and the sections the surface is exact at. */
export interface NominalBlade {
  surface: NominalSurface;
  /** Rising in height. */
  sections: LoftSection[];
  warnings: Warning[];
}

/** Returns the closed outline through exact section points, corners found, open ends closed straight. */
export function exactOutline(points: Float64Array): Outline {
  const prepared = prepareSection(points);
  const corners = prepared.closed ? findCorners(prepared.points) : prepared.corners;
  return interpolateOutline(prepared.points, { corners });
}

/**
 * Returns the nominal blade of a section table: every outline interpolated, edges found, lofted.
 * @throws shape/sections-one-height when the table holds one height only
 */
export function nominalFromTable(table: SectionTable, options: SectionEdgesOptions): NominalBlade {
  if (table.sections.length < 2) {
    throw new CamberwrightError(
      'shape/sections-one-height',
      'The nominal has sections at one height only; a blade surface needs two or more.',
      { where: `section ${table.sections[0]?.id ?? '?'}`, remedy: 'Give sections at two or more heights.' },
    );
  }
  const sections = table.sections.map((section): LoftSection => {
    const outline = exactOutline(section.points);
    return { id: section.id, height: section.height, outline, edges: findSectionEdges(outline, options) };
  });
  return loftSections(sections);
}

/** Lofts sections and says when their corners differ. */
export function loftSections(sections: LoftSection[]): NominalBlade {
  const warnings: Warning[] = [];
  const counts = new Set(sections.map((section) => section.outline.corners.length));
  if (counts.size > 1) {
    warnings.push(
      warning(
        'fit/corners-differ',
        'The sections do not all have the same corners; between sections the corners are rounded off.',
        'nominal',
        'Check the trailing edges of the sections.',
      ),
    );
  }
  return { surface: loftSurface(sections), sections, warnings };
}
