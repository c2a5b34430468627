import type { FittedOutline, Outline, SectionEdges } from '../model/outline.ts';
import { unmeasured, type Value } from '../model/value.ts';
import { type AreaProperties, areaProperties } from './area-properties.ts';
import type { EndCircle } from './camber-end.ts';
import { type CamberLine, camberLine } from './camber-line.ts';
import { type Chord, farChord } from './chord-far.ts';
import { type Contour, contourAt, contourOf, contourPoint, parameterFrom } from './contour.ts';
import { noseBetween } from './edge-arc.ts';
import type { MeasureOptions } from './measure-options.ts';
import { type PositionNoise, positionNoise } from './position-noise.ts';
import { farChordOnShapes } from './shape-support.ts';

/** Stretches an outline is divided into to tell its coverage. */
const STRETCHES = 400;

/** What is measured. */
export interface Section {
  outline: Outline;
  edges: SectionEdges;
  /** The fit behind a measured outline; absent for an exact one. */
  fitted?: FittedOutline;
  /** Tells whether the parameters from … to (rising, may exceed the period) are measured; absent: outside the gaps. */
  covered?: (from: number, to: number) => boolean;
}

/** One edge of a section. */
export interface EdgeContext {
  which: 'leading' | 'trailing';
  end: EndCircle;
  /** Outward unit direction of the line of centres there. */
  outX: number;
  outY: number;
  /** Standard uncertainty of that direction (rad), null without noise. */
  uDirection: number | null;
  /** Place whose normal lies along that direction. */
  nose: number;
  /** Edge point EP-CAM: where the straight extension of the line of centres meets the outline. */
  point: number;
  pointX: number;
  pointY: number;
}

/** Everything found once for a section. */
export interface SectionContext {
  section: Section;
  options: MeasureOptions;
  contour: Contour;
  noise: PositionNoise | null;
  covered: (from: number, to: number) => boolean;
  far: Chord;
  area: AreaProperties;
  line: CamberLine | null;
  leading: EdgeContext | null;
  trailing: EdgeContext | null;
}

/** Returns the parts of a section that its measures share. */
export function sectionContext(section: Section, options: MeasureOptions): SectionContext {
  const { outline, edges, fitted } = section;
  const contour = contourOf(outline);
  const noise = positionNoise(fitted, contour.perimeter);
  const place = contourPoint();
  contourAt(outline, edges.leading, place);
  const line = camberLine(contour, edges, options, fitted, noise);
  const onOutline = farChord(contour, place.x, place.y);
  const far = line ? farChordOnShapes(onOutline, line.leading.shape, line.trailing.shape) : onOutline;
  return {
    section,
    options,
    contour,
    noise,
    covered: section.covered ?? outsideGaps(fitted),
    far,
    area: areaProperties(outline),
    line,
    leading: line ? edgeContext(contour, line, 'leading') : null,
    trailing: line ? edgeContext(contour, line, 'trailing') : null,
  };
}

function edgeContext(contour: Contour, line: CamberLine, which: 'leading' | 'trailing'): EdgeContext {
  const lead = which === 'leading';
  const end = lead ? line.leading : line.trailing;
  const circle = lead ? line.circles[0] : line.circles[line.circles.length - 1];
  const heading = line.heading ? line.heading[which] : Math.atan2(circle.ty, circle.tx);
  const sign = lead ? -1 : 1;
  const outX = sign * Math.cos(heading);
  const outY = sign * Math.sin(heading);
  const uDirection = line.heading ? (lead ? line.heading.uLeading : line.heading.uTrailing) : null;
  const nose = noseBetween(contour, end.from, end.to, outX, outY);
  const place = contourPoint();
  let low = end.from;
  let high = end.to;
  for (let turn = 0; turn < 60; turn++) {
    const middle = 0.5 * (low + high);
    contourAt(contour.outline, middle, place);
    if ((place.y - end.y) * outX - (place.x - end.x) * outY < 0) low = middle;
    else high = middle;
  }
  const point = end.kind === 'sharp' ? nose : 0.5 * (low + high);
  contourAt(contour.outline, point, place);
  const tip =
    end.isCircle || end.shape || end.onConic ? { x: end.x + end.radius * outX, y: end.y + end.radius * outY } : place;
  return { which, end, outX, outY, uDirection, nose, point, pointX: tip.x, pointY: tip.y };
}

function outsideGaps(fitted: FittedOutline | undefined): (from: number, to: number) => boolean {
  if (!fitted || fitted.gaps.length === 0) return () => true;
  const { outline, gaps } = fitted;
  return (from, to) =>
    gaps.every(([start, end]) => {
      const shifted = parameterFrom(outline, from, start);
      return shifted >= to + (to === from ? 0 : 1e-12) && shifted - outline.period + (end - start) <= from;
    });
}

/** Returns the share of the outline's parameter length that has points, from many short stretches. */
export function coveredShare(context: SectionContext): number {
  const { knots, period } = context.section.outline;
  const step = period / STRETCHES;
  let count = 0;
  for (let i = 0; i < STRETCHES; i++) if (context.covered(knots[0] + i * step, knots[0] + (i + 1) * step)) count++;
  return count / STRETCHES;
}

/** Returns the not-measured record when one of the named stretches lacks points, else null. */
export function lacking(
  context: SectionContext,
  stretches: [from: number, to: number, name: string][],
  unit: string,
  definition: string,
): Value | null {
  const missing = [...new Set(stretches.filter(([a, b]) => !context.covered(a, b)).map((s) => s[2]))];
  if (missing.length === 0) return null;
  return unmeasured('not-measured', `No points at ${missing.join(' and ')}.`, unit, definition);
}
