import type { Polyline } from '../../src/model/results.ts';

/** Samples of the drawn outline of the example blade: disks along a circular camber arc, turned and scaled by height. */
export interface ExampleOutline {
  line: Polyline;
  camber: { x: number[]; y: number[]; radius: number[] };
  /** Trailing-edge positions (mm from the leading edge). */
  suctionEnd: number;
  pressureEnd: number;
}

const RADIUS = 50;
const LENGTH = ((40 * Math.PI) / 180) * RADIUS;
const ROOM = (20 * Math.PI) / 180;

function disk(u: number) {
  const a = u * 2 * ROOM - ROOM;
  return {
    x: RADIUS * Math.sin(a),
    y: RADIUS * (Math.cos(a) - Math.cos(ROOM)),
    tx: Math.cos(a),
    ty: -Math.sin(a),
    r: 0.5 + 5 * u - 5.2 * u * u,
    slope: (5 - 10.4 * u) / LENGTH,
  };
}

/** Contour point of the disk at u on the upper (+1) or lower (−1) flank. */
function flank(u: number, side: 1 | -1): [number, number] {
  const { x, y, tx, ty, r, slope } = disk(u);
  const n = side * Math.sqrt(1 - slope * slope);
  return [x + r * (-slope * tx - n * ty), y + r * (-slope * ty + n * tx)];
}

/** Arc of the end disk from one contact point to the other, `count` inner points, counter-clockwise. */
function cap(u: number, from: [number, number], to: [number, number], count: number): [number, number][] {
  const { x, y, r } = disk(u);
  const start = Math.atan2(from[1] - y, from[0] - x);
  const sweep = (Math.atan2(to[1] - y, to[0] - x) - start + 4 * Math.PI) % (2 * Math.PI);
  return Array.from({ length: count }, (_, k) => {
    const angle = start + (sweep * (k + 1)) / (count + 1);
    return [x + r * Math.cos(angle), y + r * Math.sin(angle)];
  });
}

/** The outline at a scale and turn; starts at the leading edge and runs counter-clockwise, pressure side first. */
export function exampleOutline(scale: number, turnDeg: number): ExampleOutline {
  const count = 120;
  const lower = Array.from({ length: count + 1 }, (_, i) => flank(i / count, -1));
  const upper = Array.from({ length: count + 1 }, (_, i) => flank(1 - i / count, 1));
  const trailing = cap(1, lower[count], upper[0], 21);
  const leading = cap(0, upper[count], lower[0], 21);
  const raw = [...leading.slice(10), ...lower, ...trailing, ...upper, ...leading.slice(0, 10)];
  const [c, s] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)];
  const turned = ([x, y]: readonly [number, number]) => [scale * (c * x - s * y), scale * (s * x + c * y)] as const;
  const points = raw.map(turned);
  const run = [0];
  for (let i = 1; i < points.length; i++)
    run.push(run[i - 1] + Math.hypot(points[i][0] - points[i - 1][0], points[i][1] - points[i - 1][1]));
  const [last, first] = [points[points.length - 1], points[0]];
  const whole = run[run.length - 1] + Math.hypot(first[0] - last[0], first[1] - last[1]);
  const nose = 11 + lower.length + 10;
  const disks = Array.from({ length: 61 }, (_, i) => disk(i / 60));
  return {
    line: {
      x: points.map((p) => p[0]),
      y: points.map((p) => p[1]),
      along: run.map((at, i) => (i <= nose ? at : at - whole)),
    },
    camber: {
      x: disks.map((d) => turned([d.x, d.y])[0]),
      y: disks.map((d) => turned([d.x, d.y])[1]),
      radius: disks.map((d) => scale * d.r),
    },
    suctionEnd: run[nose] - whole,
    pressureEnd: run[nose],
  };
}
