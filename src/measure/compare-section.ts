import { fitMeasured } from '../fit/fit-measured.ts';
import { nominalOutline } from '../fit/nominal-outline.ts';
import { findSectionEdges } from '../fit/section-edges.ts';
import type { FittedOutline } from '../model/outline.ts';
import type { Relation } from '../model/relation.ts';
import type { NominalSurface } from '../model/surface.ts';
import type { LocalFault } from '../relate/faults-find.ts';
import { acrossFaults } from '../section/across-faults.ts';
import { type CarriedSection, carryPoints } from '../section/carry-points.ts';
import type { OutlineGap } from '../section/outline-gaps.ts';
import { pivotOn } from '../section/pivot-on.ts';
import { type PointsByHeight, type SlabOptions, sectionPoints } from '../section/slab-points.ts';
import { edgeHint, levelSection, type SurfaceSection } from '../section/surface-section.ts';
import { MEASURE_DEFAULTS, type MeasureOptions } from './measure-options.ts';
import { type Section, type SectionContext, sectionContext } from './section-context.ts';

/** What all sections of one measured part share. */
export interface SectionSource {
  surface: NominalSurface;
  relation: Relation;
  sorted: PointsByHeight;
  /** Standard deviation of a point along the normal (mm); 0 for exact points. */
  noise: number;
  /** Pivot of section motions (mm). */
  pivot: readonly [number, number];
  slab: SlabOptions;
  measure: Partial<MeasureOptions>;
  /** Local defects of the part. */
  faults?: readonly LocalFault[];
}

/** A section to be measured; `exact` is the drawing's own outline where the height is one of the drawing's. */
export interface SectionTask {
  id: string;
  height: number;
  exact: Section | null;
  /** The section of the nominal surface, where it is no plane across Z. */
  on?: SurfaceSection;
}

/** One section of nominal and measured part, ready to be measured by any definition. */
export interface ComparedSection {
  id: string;
  height: number;
  surface: NominalSurface;
  nominal: SectionContext;
  carried: CarriedSection;
  /** The measured outline with its context; null with too few points. */
  measured: SectionContext | null;
  /** The fit behind the measured outline. */
  fitted: FittedOutline | null;
  /** Share of the outline with points near enough, 0 … 1. */
  coverage: number;
  gaps: readonly OutlineGap[];
  /** Standard deviation of a point along the normal (mm), 0 where the points are exact. */
  noise: number;
  pivot: readonly [number, number];
}

/** Noise below this (mm) is that of the arithmetic: the points are exact. */
const EXACT = 1e-7;

/** Returns one section of nominal and measured part: everything found once that its quantities are measured on. */
export function compareContexts(source: SectionSource, task: SectionTask): ComparedSection {
  const { surface, relation } = source;
  const on = task.on ?? levelSection(surface, task.height);
  const options = { ...MEASURE_DEFAULTS, ...source.measure };
  const outline = nominalOutline(on);
  const nominal = sectionContext(task.exact ?? { outline: outline.outline, edges: outline.edges }, options);
  const { pick } = sectionPoints(on, relation, source.sorted, source.slab);
  const own = acrossFaults(on, relation, pick, source.faults ?? []);
  const carried = carryPoints(on, own.relation, own.pick);
  const noise = source.noise > EXACT ? source.noise : 0;
  const base = { id: task.id, height: task.height, surface, nominal, carried, noise, pivot: pivotOn(on, source.pivot) };
  const result = fitMeasured(surface, outline, carried, noise);
  if (result === null) return { ...base, measured: null, fitted: null, coverage: 0, gaps: [] };
  const { fitted, coverage, gaps } = result;
  const edges = findSectionEdges(fitted.outline, { hint: edgeHint(on) });
  const measured = sectionContext({ outline: fitted.outline, edges, fitted }, options);
  return { ...base, measured, fitted, coverage, gaps };
}
