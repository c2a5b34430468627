import type { Outline } from '../model/outline.ts';
import { type Contour, contourAt, contourPoint } from './contour.ts';

/** Circle inside an outline touching it at two places; `first` lies on the side the outline passes first. */
export interface Inscribed {
  x: number;
  y: number;
  radius: number;
  first: number;
  second: number;
  /** Unit tangent of the line of centres, towards the trailing edge. */
  tx: number;
  ty: number;
  /** Change of radius along the line of centres. */
  slope: number;
  /** Half the angle between the contact normals: π/2 on parallel flanks, 0 at a smooth end. */
  halfAngle: number;
  /** Smaller of 1 − radius × curvature at the two contacts; negative where the circle does not fit. */
  room: number;
}

/** Corner-free parameter intervals the two contacts must stay in. */
export interface ContactLimits {
  firstLow: number;
  firstHigh: number;
  secondLow: number;
  secondHigh: number;
}

const MAX_STEPS = 25;
const s = contourPoint();
const p = contourPoint();

/**
 * Returns the inscribed circle whose centre lies `advance` along (tx, ty) from (x, y), or null when Newton's method does
 * not settle or a contact leaves its limits. Unknowns: both contacts and the radius; equations: the two inward normals
 * meet at that distance, and the station of the centre.
 * @param start circle nearby
 * @param advance station of the wanted centre from that of `start` along its tangent (mm)
 */
export function inscribedAt(
  outline: Outline,
  start: Inscribed,
  advance: number,
  limits: ContactLimits,
): Inscribed | null {
  let { first, second, radius } = start;
  const { tx, ty } = start;
  const station = start.x * tx + start.y * ty + advance;
  const reach = Math.max(2 * Math.abs(advance), 0.5 * radius);
  for (let step = 0; step < MAX_STEPS; step++) {
    contourAt(outline, first, s);
    contourAt(outline, second, p);
    const cx = s.x - radius * s.ty;
    const cy = s.y + radius * s.tx;
    const f1 = cx - p.x + radius * p.ty;
    const f2 = cy - p.y - radius * p.tx;
    const f3 = cx * tx + cy * ty - station;
    const rs = 1 - radius * s.curvature;
    const rp = 1 - radius * p.curvature;
    const a11 = s.tx * rs;
    const a21 = s.ty * rs;
    const a12 = -p.tx * rp;
    const a22 = -p.ty * rp;
    const a13 = -s.ty + p.ty;
    const a23 = s.tx - p.tx;
    const a31 = a11 * tx + a21 * ty;
    const a33 = -s.ty * tx + s.tx * ty;
    const det = a11 * a22 * a33 + a12 * a23 * a31 - a13 * a22 * a31 - a12 * a21 * a33;
    if (det === 0 || !Number.isFinite(det)) return null;
    const ds = -(f1 * a22 * a33 + a12 * a23 * f3 - a13 * a22 * f3 - a12 * f2 * a33) / det;
    const dp = -(a11 * f2 * a33 + f1 * a23 * a31 + a13 * (a21 * f3 - f2 * a31) - a11 * a23 * f3 - f1 * a21 * a33) / det;
    const dr = -(a11 * (a22 * f3) + a12 * (f2 * a31 - a21 * f3) - f1 * a22 * a31) / det;
    const size = Math.max(Math.abs(ds), Math.abs(dp), Math.abs(dr));
    if (!Number.isFinite(size)) return null;
    const scale = size > reach ? reach / size : 1;
    first += (scale * ds) / s.speed;
    second += (scale * dp) / p.speed;
    radius += scale * dr;
    if (!(radius > 0)) return null;
    if (first < limits.firstLow || first > limits.firstHigh) return null;
    if (second < limits.secondLow || second > limits.secondHigh) return null;
    if (size <= 1e-12 * outline.period) return describe(outline, first, second, radius);
    const offset = Math.abs(f1) + Math.abs(f2) + Math.abs(f3);
    if (step > 5 && offset <= 1e-13 * outline.period) return describe(outline, first, second, radius);
  }
  return null;
}

/** Completes the record of an inscribed circle from its contacts and radius. */
export function describe(outline: Outline, first: number, second: number, radius: number): Inscribed {
  contourAt(outline, first, s);
  contourAt(outline, second, p);
  const x = 0.5 * (s.x - radius * s.ty + p.x - radius * p.ty);
  const y = 0.5 * (s.y + radius * s.tx + p.y + radius * p.tx);
  let tx = s.tx - p.tx;
  let ty = s.ty - p.ty;
  const size = Math.hypot(tx, ty);
  if (size > 1e-6) {
    tx /= size;
    ty /= size;
  } else {
    tx = s.tx;
    ty = s.ty;
  }
  const slope = -s.ty * tx + s.tx * ty;
  const halfAngle = 0.5 * Math.atan2(Math.abs(s.tx * p.ty - s.ty * p.tx), s.tx * p.tx + s.ty * p.ty);
  const room = 1 - radius * Math.max(s.curvature, p.curvature);
  return { x, y, radius, first, second, tx, ty, slope, halfAngle, room };
}

/**
 * Returns the inscribed circle with the most distant contacts found by shrinking a ball at places spread over the first side (Ma, Bae & Choi),
 * not yet polished, or null. Contacts are listed places of the contour.
 * @param leading,trailing parameters of the edge points; the first side runs from leading up to trailing
 */
export function largestShrunkBall(contour: Contour, leading: number, trailing: number): Inscribed | null {
  const { outline, count, x, y, tx, ty, t } = contour;
  const side = (trailing - leading + outline.period) % outline.period;
  const inFirst = (i: number) => (((t[i] - leading) % outline.period) + outline.period) % outline.period < side;
  const members: number[] = [];
  for (let i = 0; i < count; i++) if (inFirst(i)) members.push(i);
  let best: Inscribed | null = null;
  let widest = 0;
  for (let k = 0; k < 24; k++) {
    const i = members[Math.floor(((k + 2) / 28) * members.length)];
    let radius = contour.perimeter;
    let contact = -1;
    for (let turn = 0; turn < 40; turn++) {
      const cx = x[i] - radius * ty[i];
      const cy = y[i] + radius * tx[i];
      let nearest = radius * radius * (1 - 1e-9);
      let found = -1;
      for (let j = 0; j < count; j++) {
        const d = (x[j] - cx) ** 2 + (y[j] - cy) ** 2;
        if (d < nearest && j !== i) {
          nearest = d;
          found = j;
        }
      }
      if (found < 0) break;
      const gx = x[found] - x[i];
      const gy = y[found] - y[i];
      radius = (gx * gx + gy * gy) / (2 * (gy * tx[i] - gx * ty[i]));
      contact = found;
    }
    if (contact < 0 || inFirst(contact)) continue;
    const turned = describe(outline, t[i], t[contact], radius);
    if (radius * Math.sin(turned.halfAngle) <= widest) continue;
    widest = radius * Math.sin(turned.halfAngle);
    best = { ...turned, x: x[i] - radius * ty[i], y: y[i] + radius * tx[i] };
  }
  return best;
}
