import { CamberwrightError } from './error.ts';
import { fitMeasured } from './fit/fit-measured.ts';
import { fitOutline } from './fit/fit-outline.ts';
import type { LoftSection } from './fit/loft-surface.ts';
import { loftSections } from './fit/nominal-blade.ts';
import { nominalOutline } from './fit/nominal-outline.ts';
import { findSectionEdges } from './fit/section-edges.ts';
import { identityPose } from './math/rigid.ts';
import type { OwnSection, ShapeContext } from './own-section.ts';
import { wantedHeights } from './own-section.ts';
import { relatePoints } from './relate/relate-points.ts';
import { MAP_DEFAULTS, surfaceMap } from './relate/surface-map.ts';
import { carryPoints } from './section/carry-points.ts';
import { orderOutlinePoints } from './section/order-points.ts';
import { pointsByHeight, SLAB_DEFAULTS, slabPoints } from './section/slab-points.ts';
import { type InspectSettings, sectionId } from './settings.ts';
import { makeNominalTarget } from './spatial/nominal-target.ts';

/** First cuts of a cloud: their number, half thickness as a share of the span, and share left out at the ends. */
const FIRST_CUTS = 17;
const FIRST_SLAB = 0.006;
const END_SHARE = 0.01;
/** Points of a first cut, and rounds of carrying all points to the cuts and fitting anew. */
const FIRST_POINTS = 900;
const CARRY_ROUNDS = 3;

/** Returns the sections of a cloud without a nominal: thin first cuts, lofted, then all points carried along that surface. */
export async function cloudSections(
  positions: Float64Array,
  settings: InspectSettings,
  context: ShapeContext,
): Promise<OwnSection[]> {
  let low = Infinity;
  let high = -Infinity;
  for (let i = 2; i < positions.length; i += 3) {
    low = Math.min(low, positions[i]);
    high = Math.max(high, positions[i]);
  }
  const span = high - low;
  const inset = END_SHARE * span;
  const cuts = Array.from({ length: FIRST_CUTS }, (_, i) => low + inset + ((span - 2 * inset) * i) / (FIRST_CUTS - 1));
  const half = Math.min(FIRST_SLAB * span, (FIRST_POINTS * span) / (positions.length / 3) / 2);
  let own = cuts.map((height) => firstSection(positions, height, half, settings));
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
      const { points } = carryPoints(surface, relation, slabPoints(sorted, section.height, slab).pick, section.height);
      const { outline } = fitOutline(points, { sigma: noise, corners: [] });
      return { ...section, outline, edges: findSectionEdges(outline, settings) };
    });
  }
  const { surface, relation, noise, sorted } = await related();
  return wantedHeights(low + inset, high - inset, settings).map((height) => {
    const carried = carryPoints(surface, relation, slabPoints(sorted, height, slab).pick, height);
    const outline = nominalOutline(surface, height);
    const found = fitMeasured(surface, outline, carried, noise);
    const id = sectionId(height);
    if (found === null) return { id, height, coverage: 0, section: { outline: outline.outline, edges: outline.edges } };
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
  return { id: sectionId(height), height, outline, edges: findSectionEdges(outline, settings) };
}
