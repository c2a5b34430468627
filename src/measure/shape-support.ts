import type { EdgeShape } from '../model/outline.ts';
import type { Chord } from './chord-far.ts';

/** Size of the steps of nose along, nose across, turn, radius (both in radii) and e that tell a point's change. */
const STEP = 1e-6;

/** Standard uncertainty (mm) along a unit direction (wx, wy) of the shape's point with outward normal (dx, dy). */
export function supportUncertainty(shape: EdgeShape, dx: number, dy: number, wx: number, wy: number): number | null {
  const here = supportOf(shape, dx, dy);
  if (!here) return null;
  const gradient = new Float64Array(5);
  for (let k = 0; k < 5; k++) {
    const there = supportOf(changed(shape, k), dx, dy);
    if (!there) return null;
    const step = k === 2 || k === 4 ? STEP : STEP * shape.radius;
    gradient[k] = ((there[0] - here[0]) * wx + (there[1] - here[1]) * wy) / step;
  }
  let variance = 0;
  for (let i = 0; i < 5; i++)
    for (let j = 0; j < 5; j++) variance += gradient[i] * gradient[j] * shape.covariance[5 * i + j];
  return Math.sqrt(Math.max(0, variance));
}

/** The shape with one of its five parameters changed by a step. */
function changed(shape: EdgeShape, k: number): EdgeShape {
  const { noseX, noseY, outX, outY, radius, e } = shape;
  const step = STEP * radius;
  if (k === 0) return { ...shape, noseX: noseX - step * outX, noseY: noseY - step * outY };
  if (k === 1) return { ...shape, noseX: noseX + step * outY, noseY: noseY - step * outX };
  if (k === 2) return { ...shape, outX: outX - STEP * outY, outY: outY + STEP * outX };
  return k === 3 ? { ...shape, radius: radius + step } : { ...shape, e: e + STEP };
}

/** Point of the shape whose outward normal is (dx, dy), or null outside its arc. */
export function supportOf(shape: EdgeShape, dx: number, dy: number): [number, number] | null {
  const cosine = dx * shape.outX + dy * shape.outY;
  const sine = shape.outX * dy - shape.outY * dx;
  const angle = Math.atan2(sine, cosine);
  if (angle < shape.angleFrom || angle > shape.angleTo) return null;
  if (shape.kind === 'circle')
    return [shape.noseX + shape.radius * (dx - shape.outX), shape.noseY + shape.radius * (dy - shape.outY)];
  if (!(cosine > 0)) return null;
  const tangent = sine / cosine;
  const scale = 1 + shape.e * tangent * tangent;
  if (!(scale > 0)) return null;
  const w = shape.radius / Math.sqrt(scale);
  const across = w * tangent;
  const inward = (across * across) / (shape.radius + w);
  return [
    shape.noseX - inward * shape.outX - across * shape.outY,
    shape.noseY - inward * shape.outY + across * shape.outX,
  ];
}

/**
 * Returns the longest chord with the ends that have a model taken from it instead of from the outline, whose noise
 * makes the farthest place slide. Fixed point of direction and support points.
 */
export function farChordOnShapes(far: Chord, leading: EdgeShape | null, trailing: EdgeShape | null): Chord {
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

/** A line that rests on two ends: its contacts, and their standard uncertainty across it (mm) where they lie on a shape. */
export interface TouchingLine {
  first: [number, number];
  second: [number, number];
  uFirst: number | null;
  uSecond: number | null;
}

/**
 * Returns the line that rests on both ends, with the contacts of ends that have a shape on it. Fixed point of direction
 * and support points; the given contacts where a shape does not reach that far round.
 * @param first,second contacts on the outline
 * @param nx,ny outward unit normal there
 */
export function touchingShapes(
  leading: EdgeShape | null,
  trailing: EdgeShape | null,
  first: [number, number],
  second: [number, number],
  nx: number,
  ny: number,
): TouchingLine {
  let [a, b] = [first, second];
  let [normalX, normalY] = [nx, ny];
  for (let turn = 0; turn < 50; turn++) {
    a = (leading && supportOf(leading, normalX, normalY)) ?? first;
    b = (trailing && supportOf(trailing, normalX, normalY)) ?? second;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const side = (b[1] - a[1]) * normalX - (b[0] - a[0]) * normalY > 0 ? 1 : -1;
    const [x, y] = [(side * (b[1] - a[1])) / length, (-side * (b[0] - a[0])) / length];
    const moved = Math.hypot(x - normalX, y - normalY);
    [normalX, normalY] = [x, y];
    if (moved < 1e-14) break;
  }
  const across = (shape: EdgeShape | null): number | null =>
    shape && supportUncertainty(shape, normalX, normalY, normalX, normalY);
  return { first: a, second: b, uFirst: across(leading), uSecond: across(trailing) };
}
