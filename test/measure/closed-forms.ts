import { CAMBERED, type DiskSection, nacaHalf } from './shapes.ts';

/** Closed forms of the disc-envelope section and of plane figures (mm, degrees). */

export const RAD = Math.PI / 180;

/** Centre, tangent and radius of the disc at a fraction of the line of centres. */
export function discAt(u: number, { bend, turnDeg, radius }: DiskSection = CAMBERED) {
  const half = (turnDeg * RAD) / 2;
  const angle = 2 * half * u - half;
  return {
    x: bend * Math.sin(angle),
    y: bend * (Math.cos(angle) - Math.cos(half)),
    tx: Math.cos(angle),
    ty: -Math.sin(angle),
    radius: radius(u),
  };
}

/** Contact of that disc with the upper (1) or lower (−1) flank. */
export function flankAt(u: number, side: 1 | -1, section: DiskSection = CAMBERED): [number, number] {
  const { x, y, tx, ty, radius } = discAt(u, section);
  const k = section.slope(u) / ((section.turnDeg * RAD * section.bend) as number);
  const q = side * Math.sqrt(1 - k * k);
  return [x + radius * (-k * tx - q * ty), y + radius * (-k * ty + q * tx)];
}

/** Zero of a rising or falling function by halving. */
function zero(f: (x: number) => number, low: number, high: number): number {
  const rising = f(high) > f(low);
  for (let turn = 0; turn < 100; turn++) {
    const middle = 0.5 * (low + high);
    if (f(middle) < 0 === rising) low = middle;
    else high = middle;
  }
  return 0.5 * (low + high);
}

/** Least value of a function with one minimum, by thirds. */
export function least(f: (x: number) => number, low: number, high: number): number {
  for (let turn = 0; turn < 200; turn++) {
    const left = low + (high - low) / 3;
    const right = high - (high - low) / 3;
    if (f(left) < f(right)) high = right;
    else low = left;
  }
  return f(0.5 * (low + high));
}

/** Length of the straight cut through (x, y) across the unit direction (dx, dy) between both flanks. */
export function cutLength(x: number, y: number, dx: number, dy: number): number {
  const height = (side: 1 | -1): number => {
    const u = zero(
      (v) => {
        const [px, py] = flankAt(v, side);
        return (px - x) * dx + (py - y) * dy;
      },
      0,
      1,
    );
    const [px, py] = flankAt(u, side);
    return (py - y) * dx - (px - x) * dy;
  };
  return height(1) - height(-1);
}

/** Area properties of a region given by x(y-bounds): integrals over x of its lower and upper bound, Simpson in x = s². */
function symmetricMoments(half: (x: number) => number, steps: number) {
  let [area, mx, xx, yy] = [0, 0, 0, 0];
  for (let i = 0; i <= steps; i++) {
    const s = i / steps;
    const x = s * s;
    const w = ((i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2) / (3 * steps)) * 2 * s;
    const h = half(x);
    area += w * 2 * h;
    mx += w * 2 * h * x;
    xx += w * (2 / 3) * h ** 3;
    yy += w * 2 * h * x * x;
  }
  const centroid = mx / area;
  return { area, centroid, ixx: xx, iyy: yy - area * centroid * centroid };
}

export const nacaMoments = () => symmetricMoments(nacaHalf, 20000);

/** Plate of length L with elliptic ends a : b: area and second moments about its centre. */
export function plateMoments(length: number, a: number, b: number) {
  const flat = length - 2 * a;
  const halfDisc = (Math.PI / 8 - 8 / (9 * Math.PI)) * a ** 3 * b;
  const arm = flat / 2 + (4 * a) / (3 * Math.PI);
  return {
    area: 2 * b * flat + Math.PI * a * b,
    ixx: (flat * (2 * b) ** 3) / 12 + (Math.PI * a * b ** 3) / 4,
    iyy: (2 * b * flat ** 3) / 12 + 2 * (halfDisc + (Math.PI / 2) * a * b * arm * arm),
  };
}
