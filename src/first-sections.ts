import { CamberwrightError } from './error.ts';
import { fitOutline } from './fit/fit-outline.ts';
import type { LoftSection } from './fit/loft-surface.ts';
import { findSectionEdges } from './fit/section-edges.ts';
import { median } from './math/median.ts';
import type { Outline } from './model/outline.ts';
import { dropLonePoints } from './section/drop-lone.ts';
import { orderOutlinePoints } from './section/order-points.ts';
import { moveAlongSpan, type SpanFrames, sizeAlong, spanFrames } from './section/span-frames.ts';
import { type InspectSettings, sectionId } from './settings.ts';

/** First cuts of a cloud: their number, most half thickness as a share of the span, and points wanted in each. */
const FIRST_CUTS = 17;
const FIRST_SLAB = 0.012;
const FIRST_POINTS = 1500;
const LEAST_POINTS = 24;
/** A first outline serves when its length for its size is this close to that of the others, … */
const LENGTH_SHARE = 0.03;
/** … its points scatter no more than this many times as far as theirs, and at least half of the cuts serve. */
const SCATTER_TIMES = 2;

interface FirstCut {
  section: LoftSection;
  /** Length of the outline over the spread of its points. */
  length: number;
  sigma: number;
}

/**
 * Returns outlines of a cloud at even heights: thin slabs, their points moved to the plane with the section's frame,
 * ordered and fitted. Where that fails the nearest good outline is moved there instead.
 * @throws shape/no-closed-section when most cuts are not closed outlines of much the same shape
 */
export function firstSections(
  positions: Float64Array,
  low: number,
  high: number,
  settings: InspectSettings,
): LoftSection[] {
  const frames = spanFrames(positions, low, high);
  const heights = Array.from({ length: FIRST_CUTS }, (_, i) => low + ((high - low) * i) / (FIRST_CUTS - 1));
  const half = Math.min(FIRST_SLAB, FIRST_POINTS / (positions.length / 3) / 2) * (high - low);
  const cuts = heights.map((height) => firstCut(positions, frames, height, half, settings));
  const found = cuts.filter((cut) => cut !== null);
  const length = median(found.map((cut) => cut.length));
  const sigma = median(found.map((cut) => cut.sigma));
  const good = found.filter(
    (cut) => Math.abs(cut.length / length - 1) < LENGTH_SHARE && cut.sigma < SCATTER_TIMES * sigma,
  );
  if (2 * good.length <= FIRST_CUTS) {
    throw new CamberwrightError(
      'shape/no-closed-section',
      `Only ${good.length} of ${FIRST_CUTS} cuts across Z are closed outlines of much the same shape.`,
      {
        where: `height ${low.toFixed(3)} to ${high.toFixed(3)} mm`,
        remedy: 'Turn the cloud so that the blade stands along Z, and leave only its aerofoil in it.',
      },
    );
  }
  return heights.map((height) => {
    const near = good.reduce((best, cut) =>
      Math.abs(cut.section.height - height) < Math.abs(best.section.height - height) ? cut : best,
    );
    return near.section.height === height ? near.section : moved(near.section, frames, height);
  });
}

function firstCut(
  positions: Float64Array,
  frames: SpanFrames,
  height: number,
  half: number,
  settings: InspectSettings,
): FirstCut | null {
  const xy: number[] = [];
  const out = new Float64Array(2);
  for (let i = 0; i < positions.length; i += 3) {
    if (Math.abs(positions[i + 2] - height) > half) continue;
    moveAlongSpan(frames, positions[i], positions[i + 1], positions[i + 2], height, out);
    xy.push(out[0], out[1]);
  }
  if (xy.length < 2 * LEAST_POINTS) return null;
  const points = dropLonePoints(Float64Array.from(xy));
  const ordered = Float64Array.from(
    Array.from(orderOutlinePoints(points)).flatMap((i) => [points[2 * i], points[2 * i + 1]]),
  );
  const { outline, noise } = fitOutline(ordered, { corners: [] });
  const section = { id: sectionId(height), height, outline, edges: findSectionEdges(outline, settings) };
  return { section, length: outline.period / sizeAlong(frames, height), sigma: noise.sigma };
}

/** A section carried to another height by moving its control points. */
function moved(section: LoftSection, frames: SpanFrames, height: number): LoftSection {
  const controlX = section.outline.controlX.slice();
  const controlY = section.outline.controlY.slice();
  const out = new Float64Array(2);
  for (let i = 0; i < controlX.length; i++) {
    moveAlongSpan(frames, controlX[i], controlY[i], section.height, height, out);
    controlX[i] = out[0];
    controlY[i] = out[1];
  }
  const outline: Outline = { ...section.outline, controlX, controlY };
  return { ...section, id: sectionId(height), height, outline };
}
