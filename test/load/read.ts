import { CamberwrightError } from '../../src/error.ts';
import { sourceFromBytes } from '../../src/load/byte-source.ts';
import type { ReadOptions } from '../../src/load/format.ts';
import { readShape } from '../../src/load/read-shape.ts';
import type { Cloud, LoadedShape, Mesh, SectionTable } from '../../src/model/shape.ts';

export function bytesOf(content: string | Uint8Array): Uint8Array {
  return typeof content === 'string' ? new TextEncoder().encode(content) : content;
}

export function read(content: string | Uint8Array, options: ReadOptions = {}, chunk?: number): Promise<LoadedShape> {
  return readShape(sourceFromBytes('file', bytesOf(content), chunk), options, {});
}

export async function readCloud(content: string | Uint8Array, options: ReadOptions = {}): Promise<Cloud> {
  const { shape } = await read(content, options);
  if (shape.kind !== 'cloud') throw new Error(`read as ${shape.kind}`);
  return shape;
}

export async function readMesh(content: string | Uint8Array, options: ReadOptions = {}): Promise<Mesh> {
  const { shape } = await read(content, options);
  if (shape.kind !== 'mesh') throw new Error(`read as ${shape.kind}`);
  return shape;
}

export async function readSections(content: string | Uint8Array, options: ReadOptions = {}): Promise<SectionTable> {
  const { shape } = await read(content, options);
  if (shape.kind !== 'sections') throw new Error(`read as ${shape.kind}`);
  return shape;
}

/** The error of a file that must not load. */
export async function failure(
  content: string | Uint8Array,
  options: ReadOptions = {},
  chunk?: number,
): Promise<CamberwrightError> {
  try {
    await read(content, options, chunk);
  } catch (error) {
    if (error instanceof CamberwrightError) return error;
    throw error;
  }
  throw new Error('the file was read');
}

/** Points of an ellipse with half axes 20 and 4, x y pairs. */
export function ellipse(count: number, shift = 0): [number, number][] {
  return Array.from({ length: count }, (_, i) => {
    const angle = (2 * Math.PI * i) / count;
    return [shift + 20 * Math.cos(angle), 4 * Math.sin(angle)];
  });
}

/** A closed tetrahedron with corners that are exact in single precision. */
export const TETRAHEDRON: Mesh = {
  kind: 'mesh',
  positions: Float64Array.of(0, 0, 0, 10, 0, 0, 0, 20.5, 0, 0, 0, 30.25),
  triangles: Uint32Array.of(0, 2, 1, 0, 1, 3, 1, 2, 3, 0, 3, 2),
};

/** The corners of every triangle in order: what a mesh is whatever its vertex numbering. */
export function corners(mesh: Mesh): number[] {
  return Array.from(mesh.triangles).flatMap((v) => Array.from(mesh.positions.subarray(3 * v, 3 * v + 3)));
}

export function stlText(mesh: Mesh): string {
  const all = corners(mesh);
  const lines = ['solid part'];
  for (let i = 0; i < all.length; i += 9) {
    lines.push('  facet normal 0 0 0', '    outer loop');
    for (let k = 0; k < 9; k += 3) lines.push(`      vertex ${all.slice(i + k, i + k + 3).join(' ')}`);
    lines.push('    endloop', '  endfacet');
  }
  return `${[...lines, 'endsolid part'].join('\n')}\n`;
}

export function plyText(mesh: Mesh): string {
  const rows = [];
  for (let i = 0; i < mesh.positions.length; i += 3) rows.push(mesh.positions.subarray(i, i + 3).join(' '));
  for (let i = 0; i < mesh.triangles.length; i += 3) rows.push(`3 ${mesh.triangles.subarray(i, i + 3).join(' ')}`);
  const header = [
    'ply',
    'format ascii 1.0',
    `element vertex ${mesh.positions.length / 3}`,
    ...['x', 'y', 'z'].map((axis) => `property double ${axis}`),
    `element face ${mesh.triangles.length / 3}`,
    'property list uchar int vertex_indices',
    'end_header',
  ];
  return `${[...header, ...rows].join('\n')}\n`;
}

export function objText(mesh: Mesh): string {
  const lines = ['# a part', 'o part'];
  for (let i = 0; i < mesh.positions.length; i += 3) lines.push(`v ${mesh.positions.subarray(i, i + 3).join(' ')}`);
  for (let i = 0; i < mesh.triangles.length; i += 3) {
    lines.push(`f ${Array.from(mesh.triangles.subarray(i, i + 3), (v) => v + 1).join(' ')}`);
  }
  return `${lines.join('\n')}\n`;
}

/** Two ellipses as rows `section,z,x,y` below a header. */
export function sectionCsv(count = 12): string {
  const rows = [10, 20].flatMap((z) => ellipse(count, z).map(([x, y]) => `s${z},${z},${x},${y}`));
  return `section,z,x,y\n${rows.join('\n')}\n`;
}
