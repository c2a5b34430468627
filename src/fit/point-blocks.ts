/** Means of short blocks of neighbouring points, in order round the outline. */
export interface PointBlocks {
  /** x0, y0, x1, … (mm); no two neighbours coincide. */
  nodes: Float64Array;
  /** Points of each block. */
  sizes: Float64Array;
  /** Length of the stretch each block stands for (mm). */
  lengths: Float64Array;
  /** Indices of the corner nodes, rising. */
  corners: number[];
  /** First point of each block; the last block runs on to the first one's start. */
  firsts: Float64Array;
}

/** No block of points is longer than this share of the perimeter. */
const LONGEST_BLOCK = 1 / 160;
/** Points nearer to one another than this many noise widths give no direction: a block is at least so long. */
const SHORTEST_BLOCK = 12;
/** Standard deviations that the scatter of a straight block may lie above what noise gives. */
const STRAIGHT = 4;

/**
 * Returns blocks of points: a block grows while it and its two neighbours stay straight within noise. A corner point is
 * a block of its own; stray points are left out.
 * @param points x0, y0, x1, … (mm), counter-clockwise
 * @param corners indices of the corner points, rising
 * @param sigma standard deviation of a point along the normal (mm)
 */
export function pointBlocks(points: Float64Array, corners: readonly number[], sigma: number): PointBlocks {
  const count = points.length >> 1;
  const longest = LONGEST_BLOCK * polygonLength(points);
  const stray = strayPoints(points, corners, sigma);
  const blocks: Block[] = [];
  const starts = corners.length > 0 ? corners : [middlePoint(points)];
  starts.forEach((start, c) => {
    const end = c + 1 < starts.length ? starts[c + 1] : starts[0] + count;
    let first = start;
    if (corners.length > 0) blocks.push(blockOf(points, first, ++first, stray, true));
    while (first < end) {
      const last = blockEnd(points, first, end, sigma, longest);
      const block = blockOf(points, first, last, stray, false);
      if (block.size > 0) blocks.push(block);
      first = last;
    }
  });
  const kept = withoutRepeats(blocks);
  return {
    nodes: Float64Array.from(kept.flatMap(({ x, y }) => [x, y])),
    sizes: Float64Array.from(kept, ({ size }) => size),
    lengths: Float64Array.from(kept, ({ length }) => length),
    corners: [...kept.keys()].filter((k) => kept[k].corner),
    firsts: Float64Array.from(kept, ({ first }) => first),
  };
}

interface Block {
  x: number;
  y: number;
  size: number;
  length: number;
  first: number;
  corner: boolean;
}

function blockOf(points: Float64Array, first: number, last: number, stray: Uint8Array, corner: boolean): Block {
  const count = points.length >> 1;
  const block = { x: 0, y: 0, size: 0, length: 0, first: first % count, corner };
  for (let i = first; i < last; i++) {
    const p = i % count;
    if (stray[p] === 1) continue;
    block.size++;
    block.x += (points[2 * p] - block.x) / block.size;
    block.y += (points[2 * p + 1] - block.y) / block.size;
  }
  const a = first % count;
  const b = (last - 1) % count;
  block.length = Math.hypot(points[2 * b] - points[2 * a], points[2 * b + 1] - points[2 * a + 1]);
  return block;
}

function polygonLength(points: Float64Array): number {
  const count = points.length >> 1;
  let sum = 0;
  for (let i = 0, j = count - 1; i < count; j = i++) {
    sum += Math.hypot(points[2 * i] - points[2 * j], points[2 * i + 1] - points[2 * j + 1]);
  }
  return sum;
}

/** Index of the point nearest to the mean of all: on a flank, and the same whatever point the list starts with. */
function middlePoint(points: Float64Array): number {
  const count = points.length >> 1;
  let x = 0;
  let y = 0;
  for (let i = 0; i < count; i++) {
    x += points[2 * i] / count;
    y += points[2 * i + 1] / count;
  }
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < count; i++) {
    const square = (points[2 * i] - x) ** 2 + (points[2 * i + 1] - y) ** 2;
    if (square < least) {
      least = square;
      best = i;
    }
  }
  return best;
}

/** Grows a block from `first`; returns the index after its last point. */
function blockEnd(points: Float64Array, first: number, end: number, sigma: number, longest: number): number {
  const count = points.length >> 1;
  const base = (first + count - 1) % count;
  const ox = points[2 * base];
  const oy = points[2 * base + 1];
  let sx = 0;
  let sy = 0;
  let sxx = 0;
  let sxy = 0;
  let syy = 0;
  let m = 1;
  for (let i = first; i <= end; i++) {
    const p = i % count;
    const x = points[2 * p] - ox;
    const y = points[2 * p + 1] - oy;
    m++;
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
    syy += y * y;
    if (i - first < 2 || Math.hypot(x, y) < SHORTEST_BLOCK * sigma) continue;
    const a = sxx - (sx * sx) / m;
    const b = sxy - (sx * sy) / m;
    const c = syy - (sy * sy) / m;
    const across = 0.5 * (a + c - Math.hypot(a - c, 2 * b));
    const free = m - 2;
    const limit = sigma * sigma * (free + STRAIGHT * (1 + Math.sqrt(2 * free)));
    if (across > limit || Math.hypot(x, y) > longest) return i - 1;
  }
  return end;
}

/** Marks single points that lie off their neighbours by more than eight noise widths, the neighbours' own misfit opposed. */
function strayPoints(points: Float64Array, corners: readonly number[], sigma: number): Uint8Array {
  const count = points.length >> 1;
  const off = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const a = (i + count - 1) % count;
    const b = (i + 1) % count;
    const cx = points[2 * b] - points[2 * a];
    const cy = points[2 * b + 1] - points[2 * a + 1];
    const dx = points[2 * i] - points[2 * a];
    const dy = points[2 * i + 1] - points[2 * a + 1];
    off[i] = (dy * cx - dx * cy) / (Math.hypot(cx, cy) || 1);
  }
  const stray = new Uint8Array(count);
  for (let i = 0; i < count; i++) {
    const a = off[(i + count - 1) % count];
    const b = off[(i + 1) % count];
    if (Math.abs(off[i]) > 8 * sigma && a * off[i] < 0 && b * off[i] < 0) stray[i] = 1;
  }
  for (const corner of corners) stray[corner] = 0;
  return stray;
}

/** Drops a block whose mean falls on that of the block before it. */
function withoutRepeats(blocks: readonly Block[]): Block[] {
  const same = (a: Block | undefined, b: Block) => a !== undefined && a.x === b.x && a.y === b.y;
  const kept: Block[] = [];
  for (const block of blocks) {
    if (!same(kept.at(-1), block)) kept.push(block);
    else if (block.corner) kept[kept.length - 1] = block;
  }
  while (kept.length > 1 && same(kept.at(-1), kept[0])) kept.pop();
  return kept;
}
