import type { SectionPoints } from '../../src/model/shape.ts';

/** A cylinder of elliptic section (half axes a, b) whose axis leans in the plane of Y and Z. */
export interface LeanedEllipse {
  a: number;
  b: number;
  /** Lean of the axis (rad). */
  lean: number;
}

/** Returns section points at a height; the part itself for a tip radius of 0, else the centres of a ball touching it. */
export function leanedSection(
  part: LeanedEllipse,
  height: number,
  tipRadius: number,
  angles: Float64Array,
): SectionPoints {
  const slope = Math.tan(part.lean);
  const points = new Float64Array(2 * angles.length);
  for (const [i, angle] of angles.entries()) {
    const [mx, my] = ellipseNormal(part, angle);
    const size = Math.hypot(1, my * slope);
    const nz = (-my * slope) / size;
    // The centre lies rho n from the contact; along the axis it is slid to the section's height.
    points[2 * i] = part.a * Math.cos(angle) + (tipRadius * mx) / size;
    points[2 * i + 1] = part.b * Math.sin(angle) + (tipRadius * my) / size + slope * (height - tipRadius * nz);
  }
  return { id: `z${height}`, height, points };
}

export function ellipseNormal({ a, b }: LeanedEllipse, angle: number): [number, number] {
  const size = Math.hypot(b * Math.cos(angle), a * Math.sin(angle));
  return [(b * Math.cos(angle)) / size, (a * Math.sin(angle)) / size];
}

export function evenAngles(count: number): Float64Array {
  return Float64Array.from({ length: count }, (_, i) => (2 * Math.PI * (i + 0.5)) / count);
}

/** Distance (mm) of a point from an ellipse along its normal, positive outside; Newton on the eccentric angle. */
export function ellipseDistance(a: number, b: number, x: number, y: number): number {
  let angle = Math.atan2(y / b, x / a);
  for (let step = 0; step < 50; step++) {
    const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
    const slope = (a * cos - x) * -a * sin + (b * sin - y) * b * cos;
    const bend = a * a * sin * sin + b * b * cos * cos - (a * cos - x) * a * cos - (b * sin - y) * b * sin;
    angle -= slope / bend;
  }
  const [mx, my] = ellipseNormal({ a, b, lean: 0 }, angle);
  return (x - a * Math.cos(angle)) * mx + (y - b * Math.sin(angle)) * my;
}
