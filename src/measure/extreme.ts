import type { Outline } from '../model/outline.ts';
import { type Contour, contourAt, contourPoint } from './contour.ts';

/** Outline point farthest along a direction. */
export interface Extreme {
  t: number;
  x: number;
  y: number;
  /** Its coordinate along the direction (mm). */
  value: number;
}

const place = contourPoint();

/** Returns the outline point farthest along the unit direction (dx, dy): best listed place, then Newton on C′·d = 0. */
export function extremeAlong(contour: Contour, dx: number, dy: number): Extreme {
  let best = 0;
  let value = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < contour.count; i++) {
    const along = contour.x[i] * dx + contour.y[i] * dy;
    if (along > value) {
      value = along;
      best = i;
    }
  }
  let t = contour.t[best];
  if (!heldByCorner(contour.outline, t, contour.corner[best] === 1, dx, dy)) {
    const reach = 2 * Math.abs(gapAround(contour, best));
    const start = t;
    for (let step = 0; step < 30; step++) {
      contourAt(contour.outline, t, place);
      const slope = (place.tx * dx + place.ty * dy) * place.speed;
      const bend = place.curvature * (place.tx * dy - place.ty * dx) * place.speed * place.speed;
      const next = bend < 0 ? t - slope / bend : t + Math.sign(slope) * reach * 0.1;
      const clamped = Math.max(start - reach, Math.min(start + reach, next));
      const moved = Math.abs(clamped - t);
      t = clamped;
      if (moved <= 1e-13 * contour.outline.period) break;
    }
  }
  contourAt(contour.outline, t, place);
  return { t, x: place.x, y: place.y, value: place.x * dx + place.y * dy };
}

/** True when `t` is a corner and both sides of it fall away along the direction. */
export function heldByCorner(outline: Outline, t: number, corner: boolean, dx: number, dy: number): boolean {
  if (!corner) return false;
  contourAt(outline, t, place, 'before');
  const before = place.tx * dx + place.ty * dy;
  contourAt(outline, t, place, 'after');
  const after = place.tx * dx + place.ty * dy;
  return before >= 0 && after <= 0;
}

/** Parameter distance between the listed places around one. */
export function gapAround(contour: Contour, i: number): number {
  const { t, count, outline } = contour;
  const before = t[(i + count - 2) % count];
  const after = t[(i + 2) % count];
  const gap = after - before;
  return gap > 0 ? gap : gap + outline.period;
}
