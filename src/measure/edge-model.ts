import type { Chord } from './chord-far.ts';

/** Smooth nose that stands for a measured edge: across² = 2 R along − e along² from its nose, e = 1 a circle. */
export interface EdgeModel {
  noseX: number;
  noseY: number;
  /** Outward unit direction of its axis. */
  outX: number;
  outY: number;
  radius: number;
  e: number;
  /** Half angle of normal direction (rad) its points cover. */
  halfAngle: number;
  /** Covariance (mm², row-major 4 × 4) of the nose along and across the inward axis, of `radius` and of `e`. */
  covariance: Float64Array;
}

/** Standard uncertainty (mm) along a unit direction (wx, wy) of the model's point with outward normal (dx, dy). */
export function supportUncertainty(model: EdgeModel, dx: number, dy: number, wx: number, wy: number): number | null {
  const steps = [0, 0, 1e-6 * model.radius, 1e-6];
  const gradient = [-(wx * model.outX + wy * model.outY), wx * model.outY - wy * model.outX, 0, 0];
  for (let k = 2; k < 4; k++) {
    const change = k === 2 ? { radius: model.radius + steps[k] } : { e: model.e + steps[k] };
    const there = supportOf({ ...model, ...change }, dx, dy);
    const here = supportOf(model, dx, dy);
    if (!there || !here) return null;
    gradient[k] = ((there[0] - here[0]) * wx + (there[1] - here[1]) * wy) / steps[k];
  }
  let variance = 0;
  for (let i = 0; i < 4; i++)
    for (let j = 0; j < 4; j++) variance += gradient[i] * gradient[j] * model.covariance[4 * i + j];
  return Math.sqrt(Math.max(0, variance));
}

/** Point of the model whose outward normal is (dx, dy), or null outside the angle its points cover. */
export function supportOf(model: EdgeModel, dx: number, dy: number): [number, number] | null {
  const cosine = dx * model.outX + dy * model.outY;
  const sine = model.outX * dy - model.outY * dx;
  if (cosine <= Math.cos(model.halfAngle)) return null;
  const tangent = sine / cosine;
  const scale = 1 + model.e * tangent * tangent;
  if (!(scale > 0)) return null;
  const w = model.radius / Math.sqrt(scale);
  const across = w * tangent;
  const inward = (across * across) / (model.radius + w);
  return [
    model.noseX - inward * model.outX - across * model.outY,
    model.noseY - inward * model.outY + across * model.outX,
  ];
}

/**
 * Returns the longest chord with the ends that have a model taken from it instead of from the outline, whose noise
 * makes the farthest place slide. Fixed point of direction and support points.
 */
export function farChordOnModels(far: Chord, leading: EdgeModel | null, trailing: EdgeModel | null): Chord {
  if (!leading && !trailing) return far;
  let chord = far;
  for (let turn = 0; turn < 50; turn++) {
    const dx = (chord.trailingX - chord.leadingX) / chord.length;
    const dy = (chord.trailingY - chord.leadingY) / chord.length;
    const first = leading ? supportOf(leading, -dx, -dy) : [far.leadingX, far.leadingY];
    const second = trailing ? supportOf(trailing, dx, dy) : [far.trailingX, far.trailingY];
    if (!first || !second) return far;
    const [leadingX, leadingY] = first;
    const [trailingX, trailingY] = second;
    const length = Math.hypot(trailingX - leadingX, trailingY - leadingY);
    const moved = Math.abs(length - chord.length) + Math.hypot(leadingX - chord.leadingX, leadingY - chord.leadingY);
    chord = { ...far, leadingX, leadingY, trailingX, trailingY, length };
    if (moved <= 1e-12 * length) return chord;
  }
  return far;
}
