import { CamberwrightError } from './error.ts';
import { firstSections } from './first-sections.ts';
import { fitMeasured, LEAST_SECTION_POINTS } from './fit/fit-measured.ts';
import { fitOutline } from './fit/fit-outline.ts';
import type { LoftSection } from './fit/loft-surface.ts';
import { loftSections } from './fit/nominal-blade.ts';
import { nominalOutline } from './fit/nominal-outline.ts';
import { findSectionEdges } from './fit/section-edges.ts';
import { identityPose } from './math/rigid.ts';
import type { OwnSection, ShapeContext } from './own-section.ts';
import { placeOf, wantedSections } from './own-section.ts';
import { relatePoints } from './relate/relate-points.ts';
import { MAP_DEFAULTS, surfaceMap } from './relate/surface-map.ts';
import { carryPoints } from './section/carry-points.ts';
import type { SectionCut } from './section/section-cut.ts';
import { pointsByHeight, SLAB_DEFAULTS, sectionPoints, slabPoints } from './section/slab-points.ts';
import { edgeHint, levelSection } from './section/surface-section.ts';
import type { InspectSettings } from './settings.ts';
import { makeNominalTarget } from './spatial/nominal-target.ts';

/** Share of the span left out at both ends, and rounds of carrying all points to the cuts and fitting anew. */
const END_SHARE = 0.01;
const CARRY_ROUNDS = 3;
/** Share of the points at either end of the height range that may be stray. */
const STRAY_SHARE = 5e-4;
/** Scatter about the loft, as a share of the outline's length, beyond which the cloud is not a blade along Z. */
const MOST_SCATTER = 0.002;

/**
 * Returns the sections of a cloud without a nominal: thin first cuts, lofted, then all points carried along that surface.
 * @param cuts sections beside those at heights
 */
export async function cloudSections(
  positions: Float64Array,
  settings: InspectSettings,
  cuts: readonly SectionCut[],
  context: ShapeContext,
): Promise<OwnSection[]> {
  const heights = Float64Array.from({ length: positions.length / 3 }, (_, i) => positions[3 * i + 2]).sort();
  const stray = Math.floor(STRAY_SHARE * heights.length);
  const low = heights[stray];
  const high = heights[heights.length - 1 - stray];
  const span = high - low;
  const inset = END_SHARE * span;
  let own = firstCuts(positions, low + inset, high - inset, settings);
  const slab = { ...SLAB_DEFAULTS, halfThickness: settings.slabHalfThickness };
  const related = async () => {
    const { surface } = loftSections(own);
    const options = { gate: 0.02 * span, ...(context.finder ? { finder: context.finder } : {}) };
    const relation = await relatePoints(makeNominalTarget(surface), positions, identityPose(), options, context);
    const { noise } = surfaceMap(surface, relation, { ...MAP_DEFAULTS, cell: settings.mapCell });
    return { surface, relation, noise, sorted: pointsByHeight(relation) };
  };
  for (let round = 0; round < CARRY_ROUNDS; round++) {
    const { surface, relation, noise, sorted } = await related();
    own = own.map((section) => {
      const { pick } = slabPoints(sorted, section.height, slab);
      if (pick.length < LEAST_SECTION_POINTS) throw notABlade(`Few points follow the outline at ${section.id}.`);
      const { points } = carryPoints(levelSection(surface, section.height), relation, pick);
      const { outline } = fitOutline(points, { sigma: noise, corners: [] });
      return { ...section, outline, edges: findSectionEdges(outline, settings) };
    });
  }
  const { surface, relation, noise, sorted } = await related();
  refuseScatter(noise, own[own.length >> 1].outline.period);
  return wantedSections(surface, [low + inset, high - inset], settings, cuts).map((wanted) => {
    const { on } = wanted;
    const carried = carryPoints(on, relation, sectionPoints(on, relation, sorted, slab).pick);
    const outline = nominalOutline(on);
    const found = fitMeasured(surface, outline, carried, noise, 'free');
    const place = placeOf(wanted);
    if (found === null) return { ...place, coverage: 0, section: { outline: outline.outline, edges: outline.edges } };
    const { fitted, coverage } = found;
    const edges = findSectionEdges(fitted.outline, on.cut === null ? settings : { hint: edgeHint(on) });
    return { ...place, coverage, section: { outline: fitted.outline, edges, fitted } };
  });
}

/** The first sections; @throws shape/no-closed-section where the cuts give no outlines. */
function firstCuts(positions: Float64Array, low: number, high: number, settings: InspectSettings): LoftSection[] {
  try {
    return firstSections(positions, low, high, settings);
  } catch (error) {
    if (error instanceof CamberwrightError && error.code.startsWith('shape/')) {
      throw notABlade('Cuts across Z through the cloud give no closed outlines.', error);
    }
    throw error;
  }
}

/** @throws shape/no-closed-section when the points lie too far off the lofted surface for a blade along Z */
function refuseScatter(noise: number, perimeter: number): void {
  if (noise > MOST_SCATTER * perimeter) {
    throw notABlade(`The points scatter by ${noise.toPrecision(3)} mm about the surface through their own sections.`);
  }
}

function notABlade(message: string, cause?: unknown): CamberwrightError {
  return new CamberwrightError('shape/no-closed-section', message, {
    cause,
    remedy: 'Turn the cloud so that the blade stands along Z, and leave only its aerofoil in it.',
  });
}
