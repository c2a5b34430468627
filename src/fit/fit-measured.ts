import type { FittedOutline } from '../model/outline.ts';
import type { NominalSurface } from '../model/surface.ts';
import type { CarriedSection } from '../section/carry-points.ts';
import { type FilledSection, fillGaps } from '../section/fill-gaps.ts';
import { coveredShare, type OutlineGap, outlineGaps } from '../section/outline-gaps.ts';
import { fitFromNominal } from './fit-from-nominal.ts';
import { fitOutline } from './fit-outline.ts';
import { type NominalOutline, parameterAtU } from './nominal-outline.ts';

/** A measured section's outline with what of it is measured. */
export interface MeasuredOutline {
  fitted: FittedOutline;
  /** Share of the outline with points near enough, 0 … 1. */
  coverage: number;
  gaps: OutlineGap[];
}

/** Fewest points of a section worth a fit. */
export const LEAST_SECTION_POINTS = 24;

/**
 * Returns the closed outline fitted to carried section points, or null with fewer than 24 of them: the nominal moved by a
 * smooth deviation, else a free fit with the nominal for a guide.
 * @param noise standard deviation of a point along the normal (mm); 0 when the points are exact
 * @param basis 'free' where the nominal was made of the same points: it then says nothing that they do not
 */
export function fitMeasured(
  surface: NominalSurface,
  nominal: NominalOutline,
  section: CarriedSection,
  noise: number,
  basis: 'nominal' | 'free' = 'nominal',
): MeasuredOutline | null {
  if (section.u.length < LEAST_SECTION_POINTS) return null;
  const gaps = outlineGaps(section.on, section.u);
  const coverage = coveredShare(surface, gaps);
  if (noise > 0 && basis === 'nominal') {
    const ordered = fillGaps(section, []);
    const starts = ordered.u.map((u) => parameterAtU(nominal, u));
    const fitted = fitFromNominal(nominal.outline, ordered.points, noise, starts);
    if (fitted) return { fitted: { ...fitted, gaps: parameterGaps(surface, fitted, ordered, gaps) }, coverage, gaps };
  }
  return { fitted: freeFit(surface, nominal, section, noise, gaps), coverage, gaps };
}

/**
 * The outline fitted with no more than a guide of the nominal. Corners are those of the nominal; gaps are bridged by
 * stand-ins that are then forgotten: they are neither evidence nor measured.
 */
function freeFit(
  surface: NominalSurface,
  nominal: NominalOutline,
  section: CarriedSection,
  noise: number,
  gaps: readonly OutlineGap[],
): FittedOutline {
  const filled = fillGaps(section, gaps);
  const whole = fitOutline(filled.points, {
    corners: cornerPoints(surface, filled.u),
    ...(noise > 0 ? { sigma: noise, guide: nominal.outline } : {}),
  });
  const fitted = withoutStandIns(whole, filled.standIn);
  return { ...fitted, gaps: parameterGaps(surface, whole, filled, gaps), basis: 'free' };
}

/** Indices of the points nearest the nominal's corners. */
function cornerPoints(surface: NominalSurface, u: Float64Array): number[] {
  const { columns } = surface;
  const corners: number[] = [];
  for (let c = 1; c < columns.length; c++) if (columns[c] === columns[c - 1]) corners.push(columns[c]);
  if (surface.cornerAtTrailing) corners.push(columns[0]);
  const found = corners.map((at) => {
    let best = 0;
    u.forEach((value, i) => {
      if (Math.abs(value - at) < Math.abs(u[best] - at)) best = i;
    });
    return best;
  });
  return found.sort((a, b) => a - b);
}

function withoutStandIns(whole: FittedOutline, standIn: Uint8Array): FittedOutline {
  const kept = Array.from(standIn.keys()).filter((i) => standIn[i] === 0);
  if (kept.length === standIn.length) return whole;
  const place = new Map(kept.map((i, k) => [i, k]));
  return {
    ...whole,
    points: Float64Array.from(kept.flatMap((i) => [whole.points[2 * i], whole.points[2 * i + 1]])),
    parameters: Float64Array.from(kept, (i) => whole.parameters[i]),
    weights: Float64Array.from(kept, (i) => whole.weights[i]),
    setAside: whole.setAside.flatMap((i) => place.get(i) ?? []),
  };
}

/** The gaps as rising parameter intervals of the fitted outline: between the feet of the points at their ends. */
function parameterGaps(
  surface: NominalSurface,
  whole: FittedOutline,
  filled: FilledSection,
  gaps: readonly OutlineGap[],
): [number, number][] {
  const { columns } = surface;
  const uMax = columns[columns.length - 1];
  const { period } = whole.outline;
  const parameterOf = new Map<number, number>();
  let firstU = Infinity;
  filled.u.forEach((u, i) => {
    if (filled.standIn[i] === 1) return;
    parameterOf.set(u, whole.parameters[i]);
    firstU = Math.min(firstU, u);
  });
  return gaps.flatMap(([from, to]): [number, number][] => {
    const ends = [parameterOf.get(from), parameterOf.get(to > uMax ? firstU : to)];
    if (surface.orientation < 0) ends.reverse();
    const [start, end] = ends;
    if (start === undefined || end === undefined) return [];
    return [[start, end > start ? end : end + period]];
  });
}
