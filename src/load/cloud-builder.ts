import type { Cloud } from '../model/shape.ts';
import { type FormatInput, loadError, warn } from './format.ts';
import { countDuplicates } from './hash-points.ts';
import { type DoubleStore, doubleStore, exactDoubles, push3 } from './stores.ts';

/** Share of points without finite coordinates from which a cloud is refused. */
const MAX_NON_FINITE_SHARE = 0.01;

/** Points as they come in; those without finite coordinates are counted and left out. */
export interface CloudBuilder {
  input: FormatInput;
  positions: DoubleStore;
  normals: DoubleStore | null;
  dropped: number;
  /** Line or row of the first point left out. */
  firstDropped: number;
}

export function cloudBuilder(input: FormatInput, expected: number, withNormals: boolean): CloudBuilder {
  const normals = withNormals ? doubleStore(3 * expected) : null;
  return { input, positions: doubleStore(3 * expected), normals, dropped: 0, firstDropped: 0 };
}

/** Adds a point, or counts it as dropped; `place` is its line or row. Returns whether it was added. */
export function addPoint(builder: CloudBuilder, x: number, y: number, z: number, place: number): boolean {
  // The difference of a number with itself is 0 only when it is finite.
  if (x - x + (y - y) + (z - z) === 0) {
    push3(builder.positions, x, y, z, builder.input);
    return true;
  }
  if (builder.dropped++ === 0) builder.firstDropped = place;
  return false;
}

/** Scales normals to length 1 in place; false when one has no direction. */
export function normalise(normals: Float64Array): boolean {
  for (let i = 0; i < normals.length; i += 3) {
    const length = Math.hypot(normals[i], normals[i + 1], normals[i + 2]);
    if (!(length > 0 && length < Number.POSITIVE_INFINITY)) return false;
    normals[i] /= length;
    normals[i + 1] /= length;
    normals[i + 2] /= length;
  }
  return true;
}

/**
 * Returns the finished cloud and adds the warnings for points left out, equal points and unusable normals.
 *
 * @param unit what `place` counted: `line` in text, `point` in binary files
 * @throws `load/no-points`, `load/all-non-finite`; `load/not-a-number` (text) or `load/non-finite` (binary) when 1 % or
 *   more of the points are not finite
 */
export function finishCloud(builder: CloudBuilder, unit: 'line' | 'point'): Cloud {
  const { input, dropped } = builder;
  const kept = builder.positions.length / 3;
  const total = kept + dropped;
  if (total === 0) {
    throw loadError(input, 'load/no-points', 'The file holds no points.', null, 'Choose a file with points in it.');
  }
  const first = `${unit} ${builder.firstDropped}`;
  if (kept === 0) {
    const message = `None of the ${total} points has finite coordinates.`;
    throw loadError(input, 'load/all-non-finite', message, first, 'Export the scan again with its coordinates.');
  }
  if (dropped > 0) {
    const remedy = 'Export the scan again without points that have no coordinates.';
    const message = `${dropped} of ${total} points have coordinates that are not finite numbers.`;
    if (dropped / total >= MAX_NON_FINITE_SHARE) {
      const code = unit === 'line' ? 'load/not-a-number' : 'load/non-finite';
      throw loadError(input, code, message, unit === 'line' ? `${first}, column 1 or later` : first, remedy);
    }
    warn(input, 'load/non-finite-dropped', `${message} They are left out.`, `from ${first}`, remedy);
  }
  const positions = exactDoubles(builder.positions);
  const duplicates = countDuplicates(positions);
  if (duplicates > 0) {
    const message = `${duplicates} of ${kept} points have exactly the coordinates of another. They are kept.`;
    warn(input, 'load/duplicate-points', message, null, 'No action is needed unless two scans were joined by mistake.');
  }
  const cloud: Cloud = { kind: 'cloud', positions };
  if (builder.normals !== null) {
    const normals = exactDoubles(builder.normals);
    if (normalise(normals)) cloud.normals = normals;
    else {
      const message = 'At least one normal has no direction. The normals are not used.';
      warn(input, 'load/normals-unusable', message, null, 'Export the scan again with a normal for every point.');
    }
  }
  return cloud;
}
