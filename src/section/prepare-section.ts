import { CamberwrightError } from '../error.ts';

/** The points of one section made ready for a fit. */
export interface PreparedSection {
  /** x0, y0, x1, … (mm), counter-clockwise, none repeated, starting mid-flank (or after an open end). */
  points: Float64Array;
  /** False when the points left an end open; the outline then closes it by a straight line. */
  closed: boolean;
  /** Index in the given points of each point kept. */
  source: Uint32Array;
  /** Indices of the two ends of an open outline, rising; empty when closed. Both are corners. */
  corners: number[];
  /** True when the given points ran clockwise. */
  reversed: boolean;
}

/** A closing step this many times the longest of the steps beside it is an open end. */
const OPEN_FACTOR = 4;
/** Steps below this share of the box diagonal are repeats. */
const SAME = 1e-9;

/**
 * Returns section points without repeats, counter-clockwise, starting at the middle of the longer flank. The outline
 * counts as open when the step from the last given point to the first is over four times the steps beside it.
 * @param given x0, y0, x1, … (mm), ordered, either way round
 * @throws `shape/section` when fewer than 3 distinct points are left
 */
export function prepareSection(given: Float64Array): PreparedSection {
  const kept = distinct(given);
  const count = kept.length;
  if (count < 3) {
    throw new CamberwrightError('shape/section', `A section needs at least 3 distinct points; ${count} found.`, {
      remedy: 'Give more points of the section.',
    });
  }
  const reversed = signedArea(given, kept) < 0;
  if (reversed) kept.reverse();
  const open = isOpen(given, kept);
  const start = open ? 0 : midFlank(given, kept);
  const source = new Uint32Array(count);
  const points = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    source[i] = kept[(start + i) % count];
    points[2 * i] = given[2 * source[i]];
    points[2 * i + 1] = given[2 * source[i] + 1];
  }
  return { points, closed: !open, source, corners: open ? [0, count - 1] : [], reversed };
}

function distinct(given: Float64Array): number[] {
  const count = given.length >> 1;
  let minX = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < count; i++) {
    minX = Math.min(minX, given[2 * i]);
    maxX = Math.max(maxX, given[2 * i]);
    minY = Math.min(minY, given[2 * i + 1]);
    maxY = Math.max(maxY, given[2 * i + 1]);
  }
  const same = SAME * Math.hypot(maxX - minX, maxY - minY);
  const kept: number[] = [];
  const far = (i: number, j: number) =>
    Math.hypot(given[2 * i] - given[2 * j], given[2 * i + 1] - given[2 * j + 1]) > same;
  for (let i = 0; i < count; i++) if (kept.length === 0 || far(i, kept[kept.length - 1])) kept.push(i);
  while (kept.length > 1 && !far(kept[0], kept[kept.length - 1])) kept.pop();
  return kept;
}

function signedArea(given: Float64Array, kept: number[]): number {
  let area = 0;
  for (let a = 0, b = kept.length - 1; a < kept.length; b = a++) {
    const i = kept[a];
    const j = kept[b];
    area += given[2 * j] * given[2 * i + 1] - given[2 * i] * given[2 * j + 1];
  }
  return area / 2;
}

function stepAfter(given: Float64Array, kept: number[], a: number): number {
  const i = kept[a];
  const j = kept[(a + 1) % kept.length];
  return Math.hypot(given[2 * i] - given[2 * j], given[2 * i + 1] - given[2 * j + 1]);
}

/** Compares the closing step with the longest of the eight steps on either side of it. */
function isOpen(given: Float64Array, kept: number[]): boolean {
  const count = kept.length;
  const reach = Math.min(8, Math.floor((count - 1) / 4));
  let beside = 0;
  for (let j = 1; j <= reach; j++) {
    beside = Math.max(beside, stepAfter(given, kept, count - 1 - j), stepAfter(given, kept, j - 1));
  }
  return reach > 1 && stepAfter(given, kept, count - 1) > OPEN_FACTOR * beside;
}

/** Index of the point farthest, along the outline, from both ends of the longest extent. */
function midFlank(given: Float64Array, kept: number[]): number {
  const count = kept.length;
  const farthest = (from: number) => {
    let best = 0;
    let most = -1;
    for (let a = 0; a < count; a++) {
      const i = kept[a];
      const d = Math.hypot(given[2 * i] - given[2 * kept[from]], given[2 * i + 1] - given[2 * kept[from] + 1]);
      if (d > most) {
        most = d;
        best = a;
      }
    }
    return best;
  };
  const one = farthest(0);
  const other = farthest(one);
  const first = Math.min(one, other);
  const second = Math.max(one, other);
  const along = [0];
  for (let a = 0; a < count; a++) along.push(along[a] + stepAfter(given, kept, a));
  const middle = (along[first] + along[second]) / 2;
  const around = (along[second] + along[first] + along[count]) / 2;
  const wanted = along[second] - along[first] >= along[count] / 2 ? middle : around % along[count];
  let at = 0;
  while (at < count - 1 && along[at + 1] <= wanted) at++;
  return at;
}
