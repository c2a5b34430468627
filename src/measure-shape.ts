import { CamberwrightError } from './error.ts';
import { fitMeasured } from './fit/fit-measured.ts';
import { fitOutline } from './fit/fit-outline.ts';
import type { LoftSection } from './fit/loft-surface.ts';
import { loftSections } from './fit/nominal-blade.ts';
import { nominalFromMesh } from './fit/nominal-from-mesh.ts';
import { nominalOutline } from './fit/nominal-outline.ts';
import { findSectionEdges } from './fit/section-edges.ts';
import { sectionsAnswer } from './judge/answers.ts';
import { judgeCharacteristics } from './judge/characteristics.ts';
import { identityPose } from './math/rigid.ts';
import { MEASURE_DEFAULTS, type MeasureOptions } from './measure/measure-options.ts';
import { measuresOf } from './measure/measure-section.ts';
import { type Section, sectionContext } from './measure/section-context.ts';
import { camberPlot, outlinePlot } from './measure/section-plot.ts';
import { breathe, type RunContext } from './model/context.ts';
import type { Plan } from './model/plan.ts';
import type { Results, SectionResult } from './model/results.ts';
import type { LoadedShape, Mesh, SectionTable } from './model/shape.ts';
import { relatePoints } from './relate/relate-points.ts';
import { MAP_DEFAULTS, surfaceMap } from './relate/surface-map.ts';
import { newResults } from './results-head.ts';
import { carryPoints } from './section/carry-points.ts';
import { orderOutlinePoints } from './section/order-points.ts';
import { prepareSection } from './section/prepare-section.ts';
import { pointsByHeight, SLAB_DEFAULTS, slabPoints } from './section/slab-points.ts';
import { effectiveSettings, type InspectSettings } from './settings.ts';
import { makeNominalTarget } from './spatial/nominal-target.ts';

export interface ShapeInput {
  shape: LoadedShape;
  plan?: { name: string; sha256: string; plan: Plan };
  settings?: Partial<InspectSettings>;
}

/** A section of a shape by itself. */
interface OwnSection {
  id: string;
  height: number;
  coverage: number | null;
  section: Section;
}

/** Sections wanted of a shape without any of its own: every tenth of the span. */
const TENTHS = 10;
/** First cut of a cloud: half thickness as a share of the span, and share of the span left out at the ends. */
const FIRST_SLAB = 0.006;
const END_SHARE = 0.01;

/**
 * Returns the characteristics of a shape's sections without a nominal, under `measured` of each section. A section table
 * keeps its sections; a mesh is cut at the asked heights or every tenth of its aerofoil; a cloud is cut in thin slabs,
 * its first outlines lofted, and all its points carried along that surface.
 * @throws shape/… when no section is found, `cancelled`
 */
export async function measureShape(input: ShapeInput, context: RunContext): Promise<{ results: Results }> {
  const start = performance.now();
  const plan = input.plan?.plan ?? null;
  const settings = effectiveSettings(input.settings, plan);
  const results = newResults({ measured: [input.shape], plan: input.plan, settings });
  const options = { ...MEASURE_DEFAULTS, setbacks: settings.setbacks, edgeHalfAngleDeg: settings.edgeHalfAngleDeg };
  const own = await ownSections(input.shape, settings, context);
  const sections: SectionResult[] = [];
  for (const [i, section] of own.entries()) {
    context.onProgress?.({ step: 'sections', done: i, total: own.length });
    await breathe(context);
    sections.push(sectionResult(section, options));
  }
  const characteristics = judgeCharacteristics(sections, null, [], plan, null);
  return {
    results: {
      ...results,
      answers: { sections: sectionsAnswer(characteristics) },
      sections,
      characteristics,
      timing: { total: (performance.now() - start) / 1000 },
    },
  };
}

function sectionResult(own: OwnSection, options: MeasureOptions): SectionResult {
  const context = sectionContext(own.section, options);
  const { outline, edges } = own.section;
  return {
    id: own.id,
    height: own.height,
    coverage: own.coverage,
    measured: measuresOf(context),
    plot: {
      nominal: null,
      measured: outlinePlot(outline, edges),
      camber: camberPlot(context),
      along: [],
      deviation: [],
      u: [],
    },
  };
}

async function ownSections(loaded: LoadedShape, settings: InspectSettings, context: RunContext): Promise<OwnSection[]> {
  const { shape } = loaded;
  if (shape.kind === 'sections') return tableSections(shape, settings);
  if (shape.kind === 'mesh') return meshSections(shape, settings, context);
  return cloudSections(shape.positions, settings, context);
}

/** Fits every section of a table; exact points are interpolated. */
function tableSections(table: SectionTable, settings: InspectSettings): OwnSection[] {
  return table.sections.map(({ id, height, points }) => {
    const prepared = prepareSection(points);
    const fitted = fitOutline(prepared.points, prepared.closed ? {} : { corners: prepared.corners });
    const edges = findSectionEdges(fitted.outline, settings);
    return { id, height, coverage: null, section: { outline: fitted.outline, edges, fitted } };
  });
}

async function meshSections(mesh: Mesh, settings: InspectSettings, context: RunContext): Promise<OwnSection[]> {
  const { surface } = await nominalFromMesh(mesh, settings, context);
  return wantedHeights(surface.heights[0], surface.heights[surface.heights.length - 1], settings).map((height) => {
    const { outline, edges } = nominalOutline(surface, height);
    return { id: `z${Number(height.toFixed(3))}`, height, coverage: null, section: { outline, edges } };
  });
}

function wantedHeights(low: number, high: number, settings: InspectSettings): number[] {
  if (settings.heights) return settings.heights.filter((height) => height >= low && height <= high);
  return Array.from({ length: TENTHS + 1 }, (_, i) => low + ((high - low) * i) / TENTHS);
}

async function cloudSections(
  positions: Float64Array,
  settings: InspectSettings,
  context: RunContext,
): Promise<OwnSection[]> {
  let low = Infinity;
  let high = -Infinity;
  for (let i = 2; i < positions.length; i += 3) {
    low = Math.min(low, positions[i]);
    high = Math.max(high, positions[i]);
  }
  const span = high - low;
  const inset = END_SHARE * span;
  const heights = wantedHeights(low + inset, high - inset, settings);
  const first = heights.map((height) => firstSection(positions, height, FIRST_SLAB * span, settings));
  const { surface } = loftSections(first);
  const target = makeNominalTarget(surface);
  const relation = await relatePoints(target, positions, identityPose(), { gate: 0.02 * span }, context);
  const { noise } = surfaceMap(surface, relation, { ...MAP_DEFAULTS, cell: settings.mapCell });
  const sorted = pointsByHeight(relation);
  return heights.map((height, i) => {
    const slab = { ...SLAB_DEFAULTS, halfThickness: settings.slabHalfThickness };
    const carried = carryPoints(surface, relation, slabPoints(sorted, height, slab).pick, height);
    const own = nominalOutline(surface, height);
    const found = fitMeasured(surface, own, carried, noise);
    const { id } = first[i];
    if (found === null) return { id, height, coverage: 0, section: { outline: own.outline, edges: own.edges } };
    const edges = findSectionEdges(found.fitted.outline, settings);
    const { fitted, coverage } = found;
    return { id, height, coverage, section: { outline: fitted.outline, edges, fitted } };
  });
}

/** First outline of a cloud at a height: a thin slab, points moved straight to the plane, ordered and fitted. */
function firstSection(positions: Float64Array, height: number, half: number, settings: InspectSettings): LoftSection {
  const xy: number[] = [];
  for (let i = 0; i < positions.length; i += 3) {
    if (Math.abs(positions[i + 2] - height) <= half) xy.push(positions[i], positions[i + 1]);
  }
  if (xy.length < 48) {
    throw new CamberwrightError('shape/no-closed-section', `Only ${xy.length / 2} points lie near height ${height}.`, {
      where: `height ${height.toFixed(3)} mm`,
      remedy: 'Ask for heights within the scanned span; the stacking axis must be Z.',
    });
  }
  const points = Float64Array.from(xy);
  const order = orderOutlinePoints(points);
  const ordered = Float64Array.from(Array.from(order).flatMap((i) => [points[2 * i], points[2 * i + 1]]));
  const { outline } = fitOutline(ordered);
  return { id: `z${Number(height.toFixed(3))}`, height, outline, edges: findSectionEdges(outline, settings) };
}
