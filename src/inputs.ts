import type { InputRecord } from './model/results.ts';
import type { LoadedShape, Shape } from './model/shape.ts';

/** Returns the results file's record of an input. */
export function inputRecord(loaded: LoadedShape): InputRecord {
  return {
    name: loaded.name,
    sha256: loaded.sha256,
    format: loaded.format,
    unit: loaded.unitStated ? loaded.unit : `${loaded.unit} (not stated by the file)`,
    points: loaded.points,
    triangles: loaded.triangles,
    box: loaded.box,
  };
}

/** Returns all points of the measured files as one array (mm). */
export function measuredPoints(files: readonly LoadedShape[]): Float64Array {
  const parts = files.map((file) => pointsOf(file.shape));
  return parts.length === 1 ? parts[0] : joined(parts);
}

/** Returns the points of a shape: vertices, cloud points, or section points at their heights (mm). */
export function pointsOf(shape: Shape): Float64Array {
  if (shape.kind !== 'sections') return shape.positions;
  const count = shape.sections.reduce((sum, section) => sum + section.points.length / 2, 0);
  const positions = new Float64Array(3 * count);
  let next = 0;
  for (const section of shape.sections) {
    for (let i = 0; i < section.points.length; i += 2) {
      positions[next++] = section.points[i];
      positions[next++] = section.points[i + 1];
      positions[next++] = section.height;
    }
  }
  return positions;
}

function joined(parts: readonly Float64Array[]): Float64Array {
  const all = new Float64Array(parts.reduce((sum, part) => sum + part.length, 0));
  let next = 0;
  for (const part of parts) {
    all.set(part, next);
    next += part.length;
  }
  return all;
}
