import { cross3, dot3, unit3, type Vec3 } from '../math/vec3.ts';
import type { SectionCut } from './section-cut.ts';

/** The engine axis in the part frame: any point on it (mm) and its direction, of any length. */
export interface EngineAxis {
  point: readonly [number, number, number];
  direction: readonly [number, number, number];
}

/** A cone about the engine axis: its radius is `radius` at the axial place `at` and grows by tan(halfAngle). */
export interface ConeShape {
  /** mm */
  radius: number;
  /** Distance of the place from the part's origin along the axis (mm). */
  at: number;
  /** rad, negative where the radius falls along the axis, 0 for a cylinder. */
  halfAngle: number;
}

/** Below this sine of the half angle a cone is developed as a cylinder. */
const FLAT = 1e-6;

/**
 * Returns the cut by a cylinder or cone about the engine axis; null where it does not meet the stacking axis. The
 * developed axes at the stack point: x along the meridian, towards part +X (+Y for an axis across X), y round the axis.
 * A point at slant distance s from the apex and angle t about the axis goes to polar radius s and angle t sin(halfAngle)
 * (Crouse, NASA TN D-7345), written so that it stays exact as the cone becomes a cylinder.
 */
export function revolvedCut(
  id: string,
  axis: EngineAxis,
  cone: ConeShape,
  record: SectionCut['record'],
): SectionCut | null {
  const d = unit3(axis.direction);
  const sin = Math.sin(cone.halfAngle);
  const cos = Math.cos(cone.halfAngle);
  const turn = Math.abs(sin) < FLAT ? 0 : sin;
  const upper = roots(axis, d, cone, 0, 0);
  // Where the axis lies beyond the tip, the section lies on the side of the axis that faces the part's origin.
  const up = upper !== null && upper[0] > 0 ? -1 : 1;
  const heightOver = (x: number, y: number): number => roots(axis, d, cone, x, y)?.[up > 0 ? 1 : 0] ?? Number.NaN;
  const height = heightOver(0, 0);
  if (Number.isNaN(height)) return null;
  const across: Vec3 = unit3([-up * d[2] * d[0], -up * d[2] * d[1], up * (1 - d[2] * d[2])]);
  const round = cross3(across, d);
  const towards = Math.abs(d[0]) > FLAT ? Math.sign(d[0]) : Math.sign(d[1]);
  const [a0, r0, t0] = axisPlace(axis, d, across, round, [0, 0, height]);
  const origin = new Float64Array(2);
  const raw = (a: number, r: number, theta: number, out: Float64Array): void => {
    const m = (a - cone.at) * cos + (r - cone.radius) * sin;
    const radius = cone.radius + m * sin;
    const half = sinc((turn * theta) / 2);
    out[0] = m - 0.5 * radius * turn * theta * theta * half * half;
    out[1] = radius * theta * sinc(turn * theta);
  };
  raw(a0, r0, t0, origin);
  return {
    id,
    record,
    height,
    heightOver,
    level: (p, gradient) => {
      const [a, r, , across1, round1] = axisPlace(axis, d, across, round, p);
      for (let k = 0; k < 3; k++) {
        gradient[k] = up * (cos * (across1 * across[k] + round1 * round[k]) - sin * d[k]);
      }
      return up * (cos * (r - cone.radius) - sin * (a - cone.at));
    },
    develop: (p, out) => {
      const [a, r, theta] = axisPlace(axis, d, across, round, p);
      raw(a, r, theta, out);
      out[0] = towards * (out[0] - origin[0]);
      out[1] = towards * up * (out[1] - origin[1]);
    },
    undevelop: (x, y, out) => {
      const u = towards * x + origin[0];
      const v = towards * up * y + origin[1];
      const bend = turn / cone.radius;
      const slant = Math.hypot(1 + bend * u, bend * v);
      const m = (2 * u + bend * (u * u + v * v)) / (1 + slant);
      const theta = turn === 0 ? v / (cone.radius + m * sin) : Math.atan2(bend * v, 1 + bend * u) / turn;
      const a = cone.at + m * cos;
      const r = cone.radius + m * sin;
      const foot = a - dot3(axis.point, d);
      for (let k = 0; k < 3; k++) {
        out[k] = axis.point[k] + foot * d[k] + r * (Math.cos(theta) * across[k] + Math.sin(theta) * round[k]);
      }
    },
  };
}

function sinc(angle: number): number {
  return Math.abs(angle) < 1e-8 ? 1 : Math.sin(angle) / angle;
}

/** Axial place, radius, angle about the axis, and the radial unit vector's parts along `across` and `round`. */
function axisPlace(
  axis: EngineAxis,
  d: Vec3,
  across: Vec3,
  round: Vec3,
  p: ArrayLike<number>,
): [number, number, number, number, number] {
  const w: Vec3 = [p[0] - axis.point[0], p[1] - axis.point[1], p[2] - axis.point[2]];
  const c = dot3(w, across);
  const s = dot3(w, round);
  const r = Math.hypot(c, s);
  return [dot3(p, d), r, Math.atan2(s, c), c / r, s / r];
}

/** Heights at which the line along Z through (x, y) meets the cone, the lower first; null where it does not twice. */
function roots(axis: EngineAxis, d: Vec3, cone: ConeShape, x: number, y: number): [number, number] | null {
  const slope = Math.tan(cone.halfAngle);
  const w: Vec3 = [x - axis.point[0], y - axis.point[1], -axis.point[2]];
  const along = dot3(w, d);
  const radius = cone.radius + slope * (x * d[0] + y * d[1] - cone.at);
  const a = 1 - d[2] * d[2] * (1 + slope * slope);
  const b = w[2] - along * d[2] - radius * slope * d[2];
  const c = dot3(w, w) - along * along - radius * radius;
  const square = b * b - a * c;
  if (!(a > 0) || !(square > 0)) return null;
  const root = Math.sqrt(square);
  const found: [number, number] = [(-b - root) / a, (-b + root) / a];
  // Beyond its apex the cone has no radius, though its mirror image meets the line there.
  return found.every((z) => radius + z * slope * d[2] > 0) ? found : null;
}
