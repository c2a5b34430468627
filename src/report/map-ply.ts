import { type Limits, rampOf, rgbOf, stepOf } from './colours.ts';

/** Vertices of a coloured surface. */
export interface ColouredSurface {
  /** x0, y0, z0, x1, … (mm). */
  positions: Float64Array;
  /** Vertex indices, three a triangle; absent for points alone. */
  triangles?: Uint32Array;
  /** Deviation at each vertex (mm); NaN = not measured. */
  deviation: Float64Array;
  /** Limits at each vertex. */
  limitsOf: (vertex: number) => Limits;
}

/** Mid grey of vertices without data; not a colour of the ramp. */
const NOT_MEASURED: [number, number, number] = [128, 128, 128];
const VERTEX_BYTES = 3 * 8 + 3 + 8;
const FACE_BYTES = 1 + 3 * 4;

/**
 * A binary little-endian PLY file: double positions, colour of the deviation's step, and the deviation itself as a
 * property (NaN where not measured).
 */
export function mapPly(surface: ColouredSurface): Uint8Array {
  const { positions, triangles, deviation } = surface;
  const vertices = deviation.length;
  const faces = triangles ? triangles.length / 3 : 0;
  const head = new TextEncoder().encode(
    [
      'ply',
      'format binary_little_endian 1.0',
      'comment deviation map, mm, positive = material outside nominal',
      `element vertex ${vertices}`,
      ...['x', 'y', 'z'].map((axis) => `property double ${axis}`),
      ...['red', 'green', 'blue'].map((channel) => `property uchar ${channel}`),
      'property double deviation',
      ...(triangles ? [`element face ${faces}`, 'property list uchar uint vertex_indices'] : []),
      'end_header\n',
    ].join('\n'),
  );
  const bytes = new Uint8Array(head.length + vertices * VERTEX_BYTES + faces * FACE_BYTES);
  bytes.set(head);
  const view = new DataView(bytes.buffer);
  let at = head.length;
  for (let i = 0; i < vertices; i++, at += VERTEX_BYTES) {
    for (let axis = 0; axis < 3; axis++) view.setFloat64(at + 8 * axis, positions[3 * i + axis], true);
    const { lower, upper } = surface.limitsOf(i);
    const measured = Number.isFinite(deviation[i]);
    bytes.set(measured ? rgbOf(rampOf(stepOf(deviation[i], lower, upper)).colour) : NOT_MEASURED, at + 24);
    view.setFloat64(at + 27, measured ? deviation[i] : Number.NaN, true);
  }
  for (let f = 0; f < faces; f++, at += FACE_BYTES) {
    bytes[at] = 3;
    for (let k = 0; k < 3; k++) view.setUint32(at + 1 + 4 * k, triangles![3 * f + k], true);
  }
  return bytes;
}
