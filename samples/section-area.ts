import { outlinePoint } from './disk-envelope.ts';
import {
  LEADING,
  type OutlinePlace,
  type Piece,
  PRESSURE,
  type SectionForm,
  SUCTION,
  TRAILING,
} from './section-form.ts';

/** Nodes and weights of the eight-point Gauss-Legendre rule on [0, 1]. */
const RULE = [
  [0.9602898564975363, 0.1012285362903763],
  [0.7966664774136267, 0.2223810344533745],
  [0.525532409916329, 0.3137066458778873],
  [0.1834346424956498, 0.362683783378362],
].flatMap(([x, w]) => [
  [(1 - x) / 2, w / 2],
  [(1 + x) / 2, w / 2],
]);

const node = new Float64Array(5);

/** Integral over `t` from `from` to `to` of a function of the outline node, Gauss-Legendre in 24 panels. */
function integrate(form: SectionForm, piece: Piece, from: number, to: number, add: (weight: number) => void): void {
  const panels = 24;
  const step = (to - from) / panels;
  for (let i = 0; i < panels; i++) {
    for (const [x, w] of RULE) {
      outlinePoint(form, piece, from + (i + x) * step, node);
      add(w * Math.abs(step) * node[4]);
    }
  }
}

/** Smooth stretches of one piece: elliptic sections change law at the peak. */
function stretches(form: SectionForm, piece: Piece): [number, number][] {
  if (piece === LEADING || piece === TRAILING) return [[-1, 1]];
  if (form.ratio === 1) return [[0, 1]];
  return [
    [0, form.peak],
    [form.peak, 1],
  ];
}

export interface SectionArea {
  area: number;
  perimeter: number;
  centroidX: number;
  centroidY: number;
  /** Second moments about the centroid. */
  ixx: number;
  iyy: number;
  ixy: number;
  /** Direction of the long principal axis from +X (rad), −π/2 … π/2. */
  principalAxis: number;
}

/** Area, perimeter and moments by Green's theorem, quadrature to about 1e-12. Millimetres and radians, blade frame. */
export function sectionArea(form: SectionForm): SectionArea {
  const sums = new Float64Array(7);
  for (const piece of [LEADING, PRESSURE, TRAILING, SUCTION] as const) {
    for (const [from, to] of stretches(form, piece)) {
      integrate(form, piece, from, to, (ds) => {
        // On a counter-clockwise outline dy = nx ds and dx = −ny ds.
        const [x, y, nx, ny] = node;
        sums[0] += ds;
        sums[1] += ((x * nx + y * ny) * ds) / 2;
        sums[2] += (x * x * nx * ds) / 2;
        sums[3] += (y * y * ny * ds) / 2;
        sums[4] += (y * y * y * ny * ds) / 3;
        sums[5] += (x * x * x * nx * ds) / 3;
        sums[6] += (x * x * y * nx * ds) / 2;
      });
    }
  }
  const [perimeter, area, momentX, momentY, xx, yy, xy] = sums;
  const centroidX = momentX / area;
  const centroidY = momentY / area;
  const ixx = xx - area * centroidY * centroidY;
  const iyy = yy - area * centroidX * centroidX;
  const ixy = xy - area * centroidX * centroidY;
  return { area, perimeter, centroidX, centroidY, ixx, iyy, ixy, principalAxis: Math.atan2(2 * ixy, iyy - ixx) / 2 };
}

/** Arc length along part of one piece (mm). */
function lengthOf(form: SectionForm, piece: Piece, from: number, to: number): number {
  let length = 0;
  for (const [low, high] of stretches(form, piece)) {
    const a = Math.max(low, Math.min(from, to));
    const b = Math.min(high, Math.max(from, to));
    if (b > a) {
      integrate(form, piece, a, b, (ds) => {
        length += ds;
      });
    }
  }
  return length;
}

/**
 * Position along the outline from the leading edge nose (mm), suction side negative; the trailing edge nose counts to
 * the pressure side.
 */
export function alongOf(form: SectionForm, place: OutlinePlace): number {
  const suction = place.piece === SUCTION || (place.piece !== PRESSURE && place.t < 0);
  const end = suction ? -1 : 1;
  if (place.piece === LEADING) return end * lengthOf(form, LEADING, 0, place.t);
  const side = suction ? SUCTION : PRESSURE;
  const nose = lengthOf(form, LEADING, 0, end);
  if (place.piece === side) return end * (nose + lengthOf(form, side, 0, place.t));
  return end * (nose + lengthOf(form, side, 0, 1) + lengthOf(form, TRAILING, end, place.t));
}

/**
 * Place at a fraction of one side's length: −1 trailing edge over suction side, 0 leading edge, +1 trailing edge over
 * pressure side. Newton on the arc length.
 */
export function placeAtFraction(form: SectionForm, fraction: number): OutlinePlace {
  const end = fraction < 0 ? -1 : 1;
  const side = end < 0 ? SUCTION : PRESSURE;
  const nose = lengthOf(form, LEADING, 0, end);
  const flank = lengthOf(form, side, 0, 1);
  const wanted = Math.abs(fraction) * (nose + flank + lengthOf(form, TRAILING, end, 0));
  const edge = wanted < nose ? LEADING : TRAILING;
  const piece = wanted >= nose && wanted <= nose + flank ? side : edge;
  // Parameter where the piece starts, seen from the leading edge nose, and the length before it.
  const start = piece === TRAILING ? end : 0;
  const before = piece === LEADING ? 0 : piece === side ? nose : nose + flank;
  const forward = piece === side ? 1 : piece === LEADING ? end : -end;
  let reach = 0.5;
  for (let i = 0; i < 50; i++) {
    const t = start + forward * reach;
    const gap = before + lengthOf(form, piece, start, t) - wanted;
    outlinePoint(form, piece, t, node);
    const next = Math.min(1, Math.max(0, reach - gap / node[4]));
    const step = Math.abs(next - reach);
    reach = next;
    if (step < 1e-14) break;
  }
  return { piece, t: start + forward * reach };
}
