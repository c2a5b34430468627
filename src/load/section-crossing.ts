/** Share of the outline's length below which a loop counts as local. */
const LOCAL_LOOP = 0.01;
/** Median turn between neighbouring steps from which the order is scrambled by noise (rad). */
const NOISY_TURN = Math.PI / 18;

/** Twice the signed area of triangle abc, 0 when rounding may hide its sign. */
function turn(ax: number, ay: number, bx: number, by: number, cx: number, cy: number): number {
  const left = (bx - ax) * (cy - ay);
  const right = (by - ay) * (cx - ax);
  const area = left - right;
  return Math.abs(area) <= 1e-15 * (Math.abs(left) + Math.abs(right)) ? 0 : area;
}

function cross(p: Float64Array, i: number, j: number): boolean {
  const a = 2 * i;
  const c = 2 * j;
  const side1 = turn(p[a], p[a + 1], p[a + 2], p[a + 3], p[c], p[c + 1]);
  const side2 = turn(p[a], p[a + 1], p[a + 2], p[a + 3], p[c + 2], p[c + 3]);
  if (!((side1 < 0 && side2 > 0) || (side1 > 0 && side2 < 0))) return false;
  const side3 = turn(p[c], p[c + 1], p[c + 2], p[c + 3], p[a], p[a + 1]);
  const side4 = turn(p[c], p[c + 1], p[c + 2], p[c + 3], p[a + 2], p[a + 3]);
  return (side3 < 0 && side4 > 0) || (side3 > 0 && side4 < 0);
}

/** True when neighbouring steps turn so much, by the median, that noise exceeds the point spacing. */
function isNoisy(points: Float64Array, steps: number): boolean {
  const turns = new Float64Array(Math.max(steps - 1, 1));
  for (let i = 0; i + 1 < steps; i++) {
    const ux = points[2 * i + 2] - points[2 * i];
    const uy = points[2 * i + 3] - points[2 * i + 1];
    const vx = points[2 * i + 4] - points[2 * i + 2];
    const vy = points[2 * i + 5] - points[2 * i + 3];
    turns[i] = Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy));
  }
  return turns.sort()[turns.length >> 1] > NOISY_TURN;
}

export interface Crossings {
  /** First two steps (from point i to i + 1) that cross; null when the outline is sound. */
  found: [number, number] | null;
  /** Crossings of less than 1 % of the length in an outline with noise beyond its point spacing. */
  local: number;
}

/**
 * Finds where the open polyline through the points in their order crosses itself properly; touching does not count.
 * Each step is entered into a grid of cells and held against the earlier steps in its cells.
 *
 * @param points x0, y0, x1, …
 */
export function findCrossing(points: Float64Array): Crossings {
  const steps = points.length / 2 - 1;
  const result: Crossings = { found: null, local: 0 };
  if (steps < 3) return result;
  const along = new Float64Array(steps + 1);
  let [x0, y0, x1, y1] = [points[0], points[1], points[0], points[1]];
  for (let i = 1; i <= steps; i++) {
    const x = points[2 * i];
    const y = points[2 * i + 1];
    along[i] = along[i - 1] + Math.hypot(x - points[2 * i - 2], y - points[2 * i - 1]);
    x0 = Math.min(x0, x);
    y0 = Math.min(y0, y);
    x1 = Math.max(x1, x);
    y1 = Math.max(y1, y);
  }
  const total = along[steps];
  const noisy = isNoisy(points, steps);
  const cell = Math.max(
    total / steps,
    Math.sqrt(((x1 - x0) * (y1 - y0)) / (4 * steps)),
    (x1 - x0 + y1 - y0) / (4 * steps),
  );
  const columns = Math.floor((x1 - x0) / cell) + 1;
  const head = new Int32Array(columns * (Math.floor((y1 - y0) / cell) + 1)).fill(-1);
  const entries: number[] = [];
  const next: number[] = [];
  const tested = new Int32Array(steps).fill(-1);

  function isLocal(i: number, j: number): boolean {
    const loop = along[i] - along[j];
    return noisy && Math.min(loop, total - loop) < LOCAL_LOOP * total;
  }

  for (let i = 0; i < steps; i++) {
    const fromX = Math.floor((Math.min(points[2 * i], points[2 * i + 2]) - x0) / cell);
    const toX = Math.floor((Math.max(points[2 * i], points[2 * i + 2]) - x0) / cell);
    const fromY = Math.floor((Math.min(points[2 * i + 1], points[2 * i + 3]) - y0) / cell);
    const toY = Math.floor((Math.max(points[2 * i + 1], points[2 * i + 3]) - y0) / cell);
    for (let row = fromY; row <= toY; row++) {
      for (let column = fromX; column <= toX; column++) {
        const at = row * columns + column;
        for (let e = head[at]; e >= 0; e = next[e]) {
          const j = entries[e];
          if (j > i - 2 || tested[j] === i) continue;
          tested[j] = i;
          if (!cross(points, j, i)) continue;
          if (!isLocal(i, j)) return { found: [j, i], local: result.local };
          result.local++;
        }
        next.push(head[at]);
        head[at] = entries.length;
        entries.push(i);
      }
    }
  }
  return result;
}
