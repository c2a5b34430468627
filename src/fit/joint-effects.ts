import type { CyclicMatrix } from '../math/banded-cyclic.ts';
import type { NoisePlace } from './noise-places.ts';
import { evaluateOutline } from './outline-evaluate.ts';
import type { FitState } from './refine-fit.ts';
import { functionValue, type SplineFunction, splineResponse, tangentialShare } from './spline-functions.ts';
import type { SplineSystem } from './spline-system.ts';

/** What one standard uncertainty of a joint's place changes at a place: position (mm), direction (rad), curvature (1/mm). */
export type JointEffect = (place: NoisePlace) => [position: number, direction: number, curvature: number];

/** Step (share of the period) to either side of a joint at which the curvature is read. */
const ASIDE = 1e-6;

/**
 * Returns the effect of the doubt of every joint. A joint that moves outward by d bends the outline past it by the jump of
 * curvature times d, so that it departs in proportion to the length past the joint; the fit, its knots held, then follows
 * the points again, and what it does not take back is the effect. The departure is let end in a way that costs no
 * smoothing: by a square up to the next arc and another square along that.
 */
export function jointEffects(state: FitState, system: SplineSystem, factor: CyclicMatrix): JointEffect[] {
  const { placed } = state;
  const { period } = state.outline;
  const ahead = (t: number) => t - period * Math.floor(t / period);
  return placed.flatMap(({ shape, from, to }, k) => {
    const other = placed[placed.length - 1 - k];
    const next = other.to - other.from;
    const after = { joint: to, way: 1, u: shape.jointsU[1], length: ahead(other.from - to), next } as const;
    const before = { joint: from, way: -1, u: shape.jointsU[0], length: ahead(from - other.to), next } as const;
    return [before, after].filter(({ u }) => u > 0).map((move) => jointEffect(state, system, factor, move));
  });
}

interface JointMove {
  joint: number;
  /** 1 where the outline leaves the shape with rising parameter. */
  way: 1 | -1;
  /** Standard uncertainty of the joint (mm). */
  u: number;
  /** Length from the joint to the next arc, and of that arc (mm). */
  length: number;
  next: number;
}

function jointEffect(state: FitState, system: SplineSystem, factor: CyclicMatrix, move: JointMove): JointEffect {
  const { joint, way, u, length, next } = move;
  const { outline } = state;
  const { period } = outline;
  const aside = ASIDE * period;
  const inside = bendAt(outline, joint - way * aside);
  const size = u * (inside.curvature - bendAt(outline, joint + way * aside).curvature);
  const { nx, ny } = inside;
  const square = -(next + 2 * length) / (2 * length * (next + length));
  const last = length / (2 * next * (next + length));
  /** Departure as a polynomial of the length past the joint, and that length. */
  const pieceAt = (t: number): { s: number; c: [number, number, number] } => {
    const turn = way * (t - joint);
    const s = turn - period * Math.floor(turn / period);
    if (s <= length) return { s, c: [0, size, size * square] };
    const end = length + next;
    if (s >= end) return { s, c: [0, 0, 0] };
    return { s, c: [size * last * end * end, -2 * size * last * end, size * last] };
  };
  const { extended } = system.closed;
  const cubicOn = (k: number, moved: Float64Array): boolean => {
    const middle = 0.5 * (extended[k + 3] + extended[k + 4]);
    const { s, c } = pieceAt(middle);
    for (let b = 0; b < 4; b++) {
      const [s1, s2, s3] = [1, 2, 3].map((i) => s + way * (extended[k + b + i] - middle));
      const value = c[0] + (c[1] * (s1 + s2 + s3) + c[2] * (s1 * s2 + s1 * s3 + s2 * s3)) / 3;
      moved[2 * b] = value * nx;
      moved[2 * b + 1] = value * ny;
    }
    return s < length + next;
  };
  const controls = splineResponse(system, factor, tangentialShare(system, factor), cubicOn);
  return ({ t, functions }) => {
    const { s, c } = pieceAt(functions[0].left ? t - aside : t + aside);
    const own = [c[0] + s * (c[1] + s * c[2]), way * (c[1] + 2 * s * c[2]), 2 * c[2]];
    const effect = (of: SplineFunction): number => {
      const [px, py, qx, qy, rx, ry] = of.vectors;
      const departs = own[0] * (px * nx + py * ny) + own[1] * (qx * nx + qy * ny) + own[2] * (rx * nx + ry * ny);
      return departs - functionValue(system.closed, controls, of);
    };
    return [effect(functions[0]), effect(functions[1]), effect(functions[2])];
  };
}

/** Curvature and outward normal of an outline. */
function bendAt(outline: FitState['outline'], t: number): { curvature: number; nx: number; ny: number } {
  const out = new Float64Array(8);
  evaluateOutline(outline, t, out);
  const speed = Math.hypot(out[2], out[3]);
  return { curvature: (out[2] * out[5] - out[3] * out[4]) / speed ** 3, nx: out[3] / speed, ny: -out[2] / speed };
}
