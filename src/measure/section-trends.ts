import type { SectionResult, Trends } from '../model/results.ts';
import type { Value } from '../model/value.ts';
import type { MotionBasis } from './section-motion.ts';
import { type BowReference, type Station, spanTrends } from './span-trends.ts';

/** Share of the sections that must tell where the middle of their line of centres lies. */
const LEAST_SHARE = 0.6;

/**
 * Returns bow, lean, sweep and untwist of measured sections, and what carries the displacement: the mid camber line where
 * both end sections and most of the others have it, else the rigid fit, which form faults of edges pull.
 */
export function sectionTrends(sections: readonly SectionResult[], reference: BowReference): Trends {
  const order = [...sections].sort((a, b) => a.height - b.height);
  const held = (section: SectionResult | undefined) =>
    isHeld(section?.displacementCamberX) && isHeld(section?.displacementCamberY);
  const share = order.filter(held).length / order.length;
  const camber = held(order[0]) && held(order[order.length - 1]) && share >= LEAST_SHARE;
  const basis: MotionBasis = camber ? 'mid camber line' : 'rigid fit';
  return {
    ...spanTrends(
      order.map((section) => stationOf(section, camber)),
      reference,
    ),
    basis,
  };
}

function stationOf(section: SectionResult, camber: boolean): Station {
  const x = camber ? section.displacementCamberX : section.displacementX;
  const y = camber ? section.displacementCamberY : section.displacementY;
  const { twistFitDeg, displacementChord, displacementNormal } = section;
  return {
    height: section.height,
    dx: x?.value ?? null,
    dy: y?.value ?? null,
    uDx: x?.u ?? null,
    uDy: y?.u ?? null,
    twistDeg: twistFitDeg?.value ?? null,
    uTwistDeg: twistFitDeg?.u ?? null,
    along: displacementChord?.value ?? null,
    uAlong: displacementChord?.u ?? null,
    across: displacementNormal?.value ?? null,
    uAcross: displacementNormal?.u ?? null,
  };
}

function isHeld(value: Value | undefined): boolean {
  return typeof value?.value === 'number';
}
