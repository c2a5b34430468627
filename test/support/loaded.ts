import { boxOf } from '../../src/load/finish-shape.ts';
import type { LoadedShape, Shape } from '../../src/model/shape.ts';

/** A shape as if it had been read from a file in millimetres. */
export function loaded(shape: Shape, name = 'made.txt'): LoadedShape {
  const points = shape.kind === 'sections' ? 0 : shape.positions.length / 3;
  return {
    name,
    format: 'made',
    unit: 'mm',
    unitStated: true,
    sha256: '0'.repeat(64),
    bytes: 0,
    shape,
    box: boxOf(shape),
    points,
    triangles: shape.kind === 'mesh' ? shape.triangles.length / 3 : 0,
    warnings: [],
  };
}
