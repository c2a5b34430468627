import type { Cloud, Mesh } from '../model/shape.ts';

export interface WritePlyOptions {
  /** Comment lines for the header; absent means `units mm`. */
  comments?: string[];
}

/** Returns a mesh or cloud as binary little-endian PLY: doubles in mm, with the cloud's normals where it has them. */
export function writePly(shape: Mesh | Cloud, options: WritePlyOptions = {}): Uint8Array {
  const { positions } = shape;
  const normals = shape.kind === 'cloud' ? shape.normals : undefined;
  const triangles = shape.kind === 'mesh' ? shape.triangles : new Uint32Array(0);
  const points = positions.length / 3;
  const names = normals === undefined ? ['x', 'y', 'z'] : ['x', 'y', 'z', 'nx', 'ny', 'nz'];
  const lines = ['ply', 'format binary_little_endian 1.0'];
  for (const comment of options.comments ?? ['units mm']) lines.push(`comment ${comment.replace(/[\r\n]+/g, ' ')}`);
  lines.push(`element vertex ${points}`, ...names.map((name) => `property double ${name}`));
  if (shape.kind === 'mesh') {
    lines.push(`element face ${triangles.length / 3}`, 'property list uchar uint vertex_indices');
  }
  const header = new TextEncoder().encode(`${lines.join('\n')}\nend_header\n`);
  const stride = 8 * names.length;
  const bytes = new Uint8Array(header.length + stride * points + 13 * (triangles.length / 3));
  const view = new DataView(bytes.buffer);
  bytes.set(header);
  let at = header.length;
  for (let i = 0; i < positions.length; i += 3, at += stride) {
    for (let k = 0; k < 3; k++) {
      view.setFloat64(at + 8 * k, positions[i + k], true);
      if (normals !== undefined) view.setFloat64(at + 24 + 8 * k, normals[i + k], true);
    }
  }
  for (let t = 0; t < triangles.length; t += 3, at += 13) {
    bytes[at] = 3;
    for (let k = 0; k < 3; k++) view.setUint32(at + 1 + 4 * k, triangles[t + k], true);
  }
  return bytes;
}
