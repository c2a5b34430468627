import { type EdgeJunction, EXACT, type NoseLine } from '../../src/stock/edge-curve.ts';

/** A wedge of 5° a side about the X axis, its nose line at X = 0, and half its thickness there (mm). */
export const DEG = Math.PI / 180;
export const LINE: NoseLine = { x: 0, y: 0, inX: 1, inY: 0 };
export const SLOPE = Math.tan(5 * DEG);
export const H0 = 0.4 - 2 * SLOPE;

/** An exact junction with its tangent towards the nose (degrees from +X). */
export const junction = (x: number, y: number, degrees: number, curvature = 0): EdgeJunction => ({
  x,
  y,
  tangentX: Math.cos(degrees * DEG),
  tangentY: Math.sin(degrees * DEG),
  curvature,
  setback: x,
  u: EXACT,
});
