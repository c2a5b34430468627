/** Three numbers: a point (mm) or a direction. */
export type Vec3 = [number, number, number];

export function dot3(a: ArrayLike<number>, b: ArrayLike<number>): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

export function cross3(a: ArrayLike<number>, b: ArrayLike<number>): Vec3 {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

export function length3(a: ArrayLike<number>): number {
  return Math.hypot(a[0], a[1], a[2]);
}

export function subtract3(a: ArrayLike<number>, b: ArrayLike<number>): Vec3 {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

/** Unit vector along `a`; a zero vector stays zero. */
export function unit3(a: ArrayLike<number>): Vec3 {
  const length = length3(a);
  return length > 0 ? [a[0] / length, a[1] / length, a[2] / length] : [0, 0, 0];
}
