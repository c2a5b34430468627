import { cloudSections } from './cloud-sections.ts';
import { loftSections, nominalFromTable } from './fit/nominal-blade.ts';
import { nominalFromMesh } from './fit/nominal-from-mesh.ts';
import { nominalOutline } from './fit/nominal-outline.ts';
import type { SectionContexts } from './judge/ask-sections.ts';
import { checkChoices } from './judge/definition-checks.ts';
import { judgeResults } from './judge-results.ts';
import { MEASURE_DEFAULTS } from './measure/measure-options.ts';
import { measuresOf } from './measure/measure-section.ts';
import { type SectionContext, sectionContext } from './measure/section-context.ts';
import { camberPlot, outlinePlot } from './measure/section-plot.ts';
import { stripPlots } from './measure/strip-plot.ts';
import { breathe } from './model/context.ts';
import type { Plan } from './model/plan.ts';
import type { Results, SectionResult } from './model/results.ts';
import type { LoadedShape, Mesh, SectionTable } from './model/shape.ts';
import { type OwnProbed, ownProbed } from './own-probed.ts';
import { type OwnSection, placeOf, type ShapeContext, type WantedSection, wantedSections } from './own-section.ts';
import { sectionPath } from './probe/section-path.ts';
import { newResults } from './results-head.ts';
import { cutsOfPlan, refuseSameIds } from './section/cut-of-plan.ts';
import { cutSection } from './section/cut-section.ts';
import type { SectionCut } from './section/section-cut.ts';
import { effectiveSettings, type InspectSettings } from './settings.ts';

export interface ShapeInput {
  shape: LoadedShape;
  plan?: { name: string; sha256: string; plan: Plan };
  settings?: Partial<InspectSettings>;
}

/**
 * Returns the characteristics of a shape's sections without a nominal, under `measured` of each section. A section table
 * keeps its sections; a mesh is cut at the asked heights or every tenth of its aerofoil; a cloud is cut in thin slabs,
 * its first outlines lofted, and all its points carried along that surface.
 * @throws shape/… when no section is found, `cancelled`
 */
export async function measureShape(input: ShapeInput, context: ShapeContext): Promise<{ results: Results }> {
  const start = performance.now();
  const plan = input.plan?.plan ?? null;
  const settings = effectiveSettings(input.settings, plan);
  checkChoices(settings.definitions, plan, 'settings');
  const results = newResults({ measured: [input.shape], plan: input.plan, settings });
  const options = { ...MEASURE_DEFAULTS, setbacks: settings.setbacks, edgeHalfAngleDeg: settings.edgeHalfAngleDeg };
  const cuts = input.plan ? cutsOfPlan(input.plan.plan, input.plan.name) : [];
  const probed = ownProbed(input.shape, settings);
  const own = await ownSections(probed, settings, cuts, context);
  if (input.plan && cuts.length > 0) refuseSameIds(own, input.plan.name);
  const sections: SectionResult[] = [];
  const contexts: SectionContexts[] = [];
  for (const [i, section] of own.entries()) {
    context.onProgress?.({ step: 'sections', done: i, total: own.length });
    await breathe(context);
    const measured = sectionContext(section.section, options);
    contexts.push({ id: section.id, nominal: null, measured, carried: null });
    sections.push(sectionResult(section, measured));
  }
  const { scans } = probed;
  const warnings = [...results.warnings, ...probed.warnings];
  const found = { ...results, sections, ...(scans.length > 0 ? { scans } : {}), warnings };
  const judged = judgeResults(found, contexts, plan, settings.definitions);
  return { results: { ...judged, timing: { total: (performance.now() - start) / 1000 } } };
}

function sectionResult(own: OwnSection, context: SectionContext): SectionResult {
  const { outline, edges } = own.section;
  return {
    id: own.id,
    height: own.height,
    ...(own.cut ? { cut: own.cut.record } : {}),
    coverage: own.coverage,
    measured: measuresOf(context),
    plot: {
      nominal: null,
      measured: outlinePlot(outline, edges),
      camber: camberPlot(context),
      along: [],
      deviation: [],
      u: [],
      ...stripPlots(context, null),
    },
  };
}

async function ownSections(
  { shape, sections }: OwnProbed,
  settings: InspectSettings,
  cuts: readonly SectionCut[],
  context: ShapeContext,
): Promise<OwnSection[]> {
  if (shape.kind === 'sections') {
    const own = sections ?? tableSections(shape, settings);
    if (cuts.length === 0) return own;
    const { surface } =
      sections === null
        ? nominalFromTable(shape, settings)
        : loftSections(sections.map(({ id, height, section }) => ({ id, height, ...section })));
    const cut = cuts.map((one) => surfaceSection({ id: one.id, on: cutSection(surface, one) }));
    return [...own, ...cut].sort((a, b) => a.height - b.height);
  }
  if (shape.kind === 'mesh') return meshSections(shape, settings, cuts, context);
  return cloudSections(shape.positions, settings, cuts, context);
}

/** Fits every section of a table, all its passes together; exact points are interpolated. */
function tableSections(table: SectionTable, settings: InspectSettings): OwnSection[] {
  return table.sections.map((section) => {
    const { id, height } = section;
    const { fitted, edges } = sectionPath(section, settings);
    return { id, height, coverage: null, section: { outline: fitted.outline, edges, fitted } };
  });
}

async function meshSections(
  mesh: Mesh,
  settings: InspectSettings,
  cuts: readonly SectionCut[],
  context: ShapeContext,
): Promise<OwnSection[]> {
  const { surface } = await nominalFromMesh(mesh, settings, context);
  const ends = [surface.heights[0], surface.heights[surface.heights.length - 1]] as const;
  return wantedSections(surface, ends, settings, cuts).map(surfaceSection);
}

/** A section that is known only through the surface made of the shape. */
function surfaceSection(wanted: WantedSection): OwnSection {
  const { outline, edges } = nominalOutline(wanted.on);
  return { ...placeOf(wanted), coverage: null, section: { outline, edges } };
}
