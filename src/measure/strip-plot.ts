import { arcTable, lengthAtParameter } from '../fit/outline-arc-table.ts';
import type { SectionResult } from '../model/results.ts';
import { contourAt, contourPoint } from './contour.ts';
import type { SectionContext } from './section-context.ts';

type Plot = NonNullable<SectionResult['plot']>;
type Strips = Pick<Plot, 'curvature' | 'thickness'>;
type Line = { at: number[]; value: number[] };

/** Drawn places between two knots of the outline, and places of one line at most. */
const PLACES_A_SPAN = 3;
const MOST_PLACES = 240;
const place = contourPoint();

/**
 * Returns what the strips under a section draw: curvature along the outline and thickness over the line of centres.
 * @param nominal what the thickness is held against; null for a part measured without one
 */
export function stripPlots(context: SectionContext, nominal: SectionContext | null): Strips {
  const thickness = thicknessLine(context);
  return {
    curvature: curvaturePlot(context),
    ...(thickness ? { thickness: { ...thickness, nominal: nominal && thicknessLine(nominal) } } : {}),
  };
}

/** Curvature from trailing edge over leading edge to trailing edge, the suction side negative along. */
function curvaturePlot({ contour, section, noise, covered }: SectionContext): NonNullable<Plot['curvature']> {
  const { outline, edges } = section;
  const table = arcTable(outline, edges.leading);
  const end = lengthAtParameter(table, edges.trailing);
  const sign = edges.firstSide === 'pressure' ? 1 : -1;
  const knots = new Set(outline.knots).size;
  const step = Math.max(1, Math.ceil(contour.count / Math.min(MOST_PLACES, PLACES_A_SPAN * knots)));
  const rows: [along: number, value: number | null, u: number | null][] = [];
  for (let i = 0; i < contour.count; i += step) {
    const t = contour.t[i];
    const length = lengthAtParameter(table, t);
    contourAt(outline, t, place);
    const seen = covered(t, t) && contour.corner[i] === 0;
    rows.push([
      sign * (length <= end ? length : length - table.perimeter),
      seen ? place.curvature : null,
      seen && noise ? noise.curvature(t) : null,
    ]);
  }
  rows.sort((a, b) => a[0] - b[0]);
  return { along: rows.map((r) => r[0]), value: rows.map((r) => r[1]), u: rows.map((r) => r[2]) };
}

/** Diameters of the inscribed circles over the fraction of the line of centres; null without such a line. */
function thicknessLine({ line }: SectionContext): Line | null {
  if (line === null) return null;
  const circles = [line.leading, ...line.circles, line.trailing];
  const length = [0];
  for (let i = 1; i < circles.length; i++)
    length.push(length[i - 1] + Math.hypot(circles[i].x - circles[i - 1].x, circles[i].y - circles[i - 1].y));
  const whole = length[length.length - 1];
  const step = Math.max(1, Math.ceil((2 * circles.length) / MOST_PLACES));
  const kept = circles.map((_, i) => i).filter((i) => i % step === 0 || i === circles.length - 1);
  return { at: kept.map((i) => length[i] / whole), value: kept.map((i) => 2 * circles[i].radius) };
}
