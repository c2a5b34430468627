import { joined } from './math/joined.ts';
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
    ...(loaded.probe ? { probe: loaded.probe } : {}),
    box: loaded.box,
  };
}

/** Returns the points of a shape: vertices, cloud points, or the points of all passes of sections at their heights (mm). */
export function pointsOf(shape: Shape): Float64Array {
  if (shape.kind !== 'sections') return shape.positions;
  const parts = shape.sections.flatMap(({ points, again, height }) =>
    [points, ...(again ?? [])].map((pass) => atHeight(pass, height)),
  );
  return joined(parts);
}

function atHeight(points: Float64Array, height: number): Float64Array {
  const positions = new Float64Array((points.length / 2) * 3);
  for (let i = 0, k = 0; i < points.length; i += 2, k += 3) {
    positions[k] = points[i];
    positions[k + 1] = points[i + 1];
    positions[k + 2] = height;
  }
  return positions;
}
