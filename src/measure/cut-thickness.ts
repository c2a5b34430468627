import { type Contour, contourAt, contourPoint, parameterFrom, placeBefore } from './contour.ts';

/** A straight cut across the outline near one of its ends. */
export interface Cut {
  /** Contacts ahead of and behind the end, counter-clockwise; `before` < end < `after`. */
  before: number;
  after: number;
  /** Distance of the contacts across the cut (mm). */
  thickness: number;
}

const place = contourPoint();

/**
 * Returns the cut normal to (dx, dy) at a set-back from an end of the outline (T-ORD), or null when the outline is
 * shorter: the first crossings met when walking from the end both ways.
 * @param end parameter of the end
 * @param dx,dy unit direction from the end into the section
 * @param setback distance along that direction (mm)
 */
export function cutThickness(contour: Contour, end: number, dx: number, dy: number, setback: number): Cut | null {
  contourAt(contour.outline, end, place);
  return cutAtStation(contour, end, dx, dy, place.x * dx + place.y * dy + setback);
}

/** Returns the cut normal to (dx, dy) through the places whose coordinate along that direction is `station` (mm). */
export function cutAtStation(contour: Contour, end: number, dx: number, dy: number, station: number): Cut | null {
  const after = firstCrossing(contour, end, 1, dx, dy, station);
  const before = firstCrossing(contour, end, -1, dx, dy, station);
  if (after === null || before === null) return null;
  contourAt(contour.outline, after, place);
  const across = place.y * dx - place.x * dy;
  contourAt(contour.outline, before, place);
  return { before, after, thickness: Math.abs(place.y * dx - place.x * dy - across) };
}

function firstCrossing(
  contour: Contour,
  end: number,
  way: 1 | -1,
  dx: number,
  dy: number,
  station: number,
): number | null {
  const { outline, count, t, x, y } = contour;
  let i = way > 0 ? placeBefore(contour, end) + 1 : placeBefore(contour, end);
  let last = end;
  for (let k = 0; k < count; k++, i += way) {
    const j = ((i % count) + count) % count;
    const at = way > 0 ? parameterFrom(outline, end, t[j]) : parameterFrom(outline, end - outline.period, t[j]);
    if (x[j] * dx + y[j] * dy >= station) return refine(contour, last, at, dx, dy, station);
    last = at;
  }
  return null;
}

function refine(contour: Contour, low: number, high: number, dx: number, dy: number, station: number): number {
  for (let turn = 0; turn < 52; turn++) {
    const middle = 0.5 * (low + high);
    contourAt(contour.outline, middle, place);
    if (place.x * dx + place.y * dy < station) low = middle;
    else high = middle;
  }
  return 0.5 * (low + high);
}

/**
 * Returns the signed area between the outline from `from` to `to` and the straight line back, measured from a point:
 * Green's theorem with a Gauss rule between the listed places.
 */
export function areaBetween(contour: Contour, from: number, to: number): number {
  const { outline, t, count } = contour;
  contourAt(outline, from, place);
  const x0 = place.x;
  const y0 = place.y;
  let area = 0;
  let low = from;
  let i = placeBefore(contour, from) + 1;
  while (low < to) {
    const next = parameterFrom(outline, low, t[i % count]);
    i++;
    if (next <= low) continue;
    const high = Math.min(next, to);
    for (let g = 0; g < 3; g++) {
      contourAt(outline, 0.5 * (low + high) + 0.5 * (high - low) * GAUSS[g], place);
      const moment = (place.x - x0) * place.ty - (place.y - y0) * place.tx;
      area += 0.5 * GAUSS_WEIGHT[g] * (high - low) * place.speed * moment;
    }
    low = high;
  }
  return area;
}

const GAUSS = [-0.7745966692414834, 0, 0.7745966692414834];
const GAUSS_WEIGHT = [5 / 18, 8 / 18, 5 / 18];
