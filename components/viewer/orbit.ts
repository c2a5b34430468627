import type { Drawing } from '../../src/pipeline.ts';

/** A parallel view of the blade: turned about its height axis, tilted, moved and zoomed. */
export interface Orbit {
  /** Direction from the part to the eye: angle about +Z from +X, and angle above the X-Y plane (rad). */
  yaw: number;
  pitch: number;
  /** 1 shows the whole part. */
  zoom: number;
  /** Shift of the picture's centre (mm, right and up). */
  panX: number;
  panY: number;
}

export type Direction = 'suction' | 'pressure' | 'leading' | 'trailing' | 'tip' | 'root';

/** In the order of the keys 1 … 6. */
export const DIRECTIONS: [Direction, string][] = [
  ['suction', 'Suction side'],
  ['pressure', 'Pressure side'],
  ['leading', 'Leading edge'],
  ['trailing', 'Trailing edge'],
  ['tip', 'Tip'],
  ['root', 'Root'],
];

type Axis = [number, number, number];

/** Right, up and toward-the-eye axes of a view; defined at every tilt. */
export function axesOf(orbit: Pick<Orbit, 'yaw' | 'pitch'>): { right: Axis; up: Axis; back: Axis } {
  const [cy, sy, cp, sp] = [Math.cos(orbit.yaw), Math.sin(orbit.yaw), Math.cos(orbit.pitch), Math.sin(orbit.pitch)];
  return { right: [-sy, cy, 0], up: [-sp * cy, -sp * sy, cp], back: [cp * cy, cp * sy, sp] };
}

/** Turned by angles (rad); the tilt stops at straight down and straight up. */
export function turned(orbit: Orbit, yaw: number, pitch: number): Orbit {
  const limit = Math.PI / 2;
  return { ...orbit, yaw: orbit.yaw + yaw, pitch: Math.max(-limit, Math.min(limit, orbit.pitch + pitch)) };
}

export function zoomed(orbit: Orbit, factor: number): Orbit {
  return { ...orbit, zoom: Math.max(0.2, Math.min(400, orbit.zoom * factor)) };
}

export function moved(orbit: Orbit, right: number, up: number): Orbit {
  return { ...orbit, panX: orbit.panX + right, panY: orbit.panY + up };
}

/**
 * Yaw from which each side of the blade faces the eye: the mean outward normal of the side's vertices. The edges are
 * the twentieth of the outline around them.
 */
export function sideYaws(
  drawing: Pick<Drawing, 'normals' | 'along'>,
): Record<'suction' | 'pressure' | 'leading' | 'trailing', number> {
  const { along, normals } = drawing;
  let reach = 0;
  for (const a of along) if (Math.abs(a) > reach) reach = Math.abs(a);
  const sums = { suction: [0, 0], pressure: [0, 0], leading: [0, 0], trailing: [0, 0] };
  for (let i = 0; i < along.length; i++) {
    const a = along[i];
    if (Number.isNaN(a)) continue;
    const near = Math.abs(a) < 0.05 * reach;
    const far = Math.abs(a) > 0.95 * reach;
    const sum = near ? sums.leading : far ? sums.trailing : a < 0 ? sums.suction : sums.pressure;
    sum[0] += normals[3 * i];
    sum[1] += normals[3 * i + 1];
  }
  const yaw = ([x, y]: number[]): number => Math.atan2(y, x);
  return {
    suction: yaw(sums.suction),
    pressure: yaw(sums.pressure),
    leading: yaw(sums.leading),
    trailing: yaw(sums.trailing),
  };
}

/** The view from a named direction, whole part in the picture. */
export function named(direction: Direction, yaws: ReturnType<typeof sideYaws>): Orbit {
  const whole = { zoom: 1, panX: 0, panY: 0 };
  if (direction === 'tip') return { yaw: -Math.PI / 2, pitch: Math.PI / 2, ...whole };
  if (direction === 'root') return { yaw: -Math.PI / 2, pitch: -Math.PI / 2, ...whole };
  return { yaw: yaws[direction], pitch: 0, ...whole };
}
