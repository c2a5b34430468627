import type { Section } from './measure/section-context.ts';
import type { RunContext } from './model/context.ts';
import type { NominalSurface } from './model/surface.ts';
import { cutSection } from './section/cut-section.ts';
import type { SectionCut } from './section/section-cut.ts';
import { levelSection, type SurfaceSection } from './section/surface-section.ts';
import { type InspectSettings, sectionId } from './settings.ts';
import type { FeetFinder } from './spatial/find-feet.ts';

/** A run context with, where there are worker threads, a finder that uses them. */
export type ShapeContext = RunContext & { finder?: FeetFinder };

/** A section of a shape by itself. */
export interface OwnSection {
  id: string;
  height: number;
  coverage: number | null;
  section: Section;
  /** The cut; absent for a plane across Z. */
  cut?: SectionCut;
}

/** Sections wanted of a shape without any of its own: every tenth of the span. */
const TENTHS = 10;

/** A section wanted of a surface without a drawing. */
export interface WantedSection {
  id: string;
  on: SurfaceSection;
}

/**
 * Returns the sections to be measured on a surface: at the heights asked for between two ends, else at every tenth of
 * the span (mm), and by the cuts.
 * @throws plan/cut-… for a cut that is no section of the surface
 */
export function wantedSections(
  surface: NominalSurface,
  [low, high]: readonly [number, number],
  settings: InspectSettings,
  cuts: readonly SectionCut[],
): WantedSection[] {
  const heights =
    settings.heights?.filter((height) => height >= low && height <= high) ??
    Array.from({ length: TENTHS + 1 }, (_, i) => low + ((high - low) * i) / TENTHS);
  const level = heights.map((height) => ({ id: sectionId(height), on: levelSection(surface, height) }));
  if (cuts.length === 0) return level;
  const cut = cuts.map((cut) => ({ id: cut.id, on: cutSection(surface, cut) }));
  return [...level, ...cut].sort((a, b) => a.on.height - b.on.height);
}

/** Returns the parts of a section's result that say where it is. */
export function placeOf({ id, on }: WantedSection): Pick<OwnSection, 'id' | 'height' | 'cut'> {
  return { id, height: on.height, ...(on.cut === null ? {} : { cut: on.cut }) };
}
