import type { Mesh, SectionTable } from '../src/model/shape.ts';
import { type BladeLaw, formAt, nominalBlade, surfacePoint } from './blade.ts';
import { outlinePoint } from './disk-envelope.ts';
import { type OutlineSteps, outlinePlaces, outlineSteps } from './outline-grid.ts';
import { closeRing, joinRings, type RingMesh } from './ring-mesh.ts';
import { appendRoot, type RootBlock } from './root-block.ts';

const node = new Float64Array(7);

/** Evenly spaced heights from `from` to `to`, both included (mm). */
export function evenHeights(count: number, from = 0, to = 120): number[] {
  return Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));
}

/**
 * Exact outline points of a blade at heights (mm): counter-clockwise from the leading edge, denser at both edges, the
 * first point not repeated. About `pointsPerSection` points a section.
 */
export function exactSections(heights: number[], pointsPerSection: number, blade = nominalBlade()): SectionTable {
  const places = outlinePlaces(outlineSteps(pointsPerSection));
  const sections = heights.map((height, index) => {
    const { form } = formAt(blade, height);
    const points = new Float64Array(2 * places.length);
    places.forEach(({ piece, t }, i) => {
      outlinePoint(form, piece, t, node);
      points[2 * i] = node[0];
      points[2 * i + 1] = node[1];
    });
    return { id: `S${String(index + 1).padStart(2, '0')}`, height, points };
  });
  return { kind: 'sections', sections };
}

export interface MeshOptions {
  blade?: BladeLaw;
  /** Rows along the span and nodes round the outline. */
  rows?: number;
  columns?: number;
  /** Heights of the lowest and highest row (mm). */
  from?: number;
  to?: number;
  /** Closed bottom and top faces. */
  closed?: boolean;
  /** Adds fillet, platform and root block below the aerofoil. */
  root?: RootBlock;
  /** Moves every node outwards along the surface normal by this amount (mm). */
  stock?: (piece: number, t: number, height: number) => number;
}

function ring(blade: BladeLaw, steps: OutlineSteps, z: number, stock: MeshOptions['stock'], out: Float64Array): void {
  const at = formAt(blade, z);
  outlinePlaces(steps).forEach(({ piece, t }, i) => {
    surfacePoint(at, piece, t, z, node);
    const thick = stock === undefined ? 0 : stock(piece, t, z);
    for (let axis = 0; axis < 3; axis++) out[3 * i + axis] = node[axis] + thick * node[3 + axis];
  });
}

/** Structured watertight triangle mesh of a blade, every node exact, in the blade frame (mm). */
export function makeMesh(options: MeshOptions = {}): Mesh {
  const { rows = 121, columns = 400, from = 0, to = 120, closed = true, root, stock } = options;
  const base = options.blade ?? nominalBlade();
  const blade = root === undefined ? base : { ...base, fillet: { from: root.platformTop, radius: root.fillet } };
  const steps = outlineSteps(columns);
  const count = outlinePlaces(steps).length;
  const heights = evenHeights(rows, from, to);
  if (root !== undefined) {
    // Equal turning steps round the fillet, from the platform to where the aerofoil starts.
    const turns = Array.from({ length: 16 }, (_, i) => root.fillet * (1 - Math.cos((Math.PI * i) / 32)));
    const fillet = turns.map((rise, i) => root.platformTop + (i === 0 ? 0 : rise));
    heights.unshift(...fillet.filter((z) => z < from - 1e-6));
  }
  const levels = heights.length;
  const rings = levels + (root === undefined ? 0 : 4);
  const mesh: RingMesh = {
    positions: new Float64Array(3 * count * rings),
    triangles: new Uint32Array(3 * (2 * count * (rings + 1))),
    nodes: levels * count,
    used: 0,
  };
  heights.forEach((z, i) => {
    ring(blade, steps, z, stock, mesh.positions.subarray(3 * count * i));
    if (i > 0) joinRings(mesh, (i - 1) * count, i * count, count);
  });
  if (closed || root !== undefined) closeRing(mesh, (levels - 1) * count, count, true);
  if (root !== undefined) appendRoot(mesh, root, steps, formAt(base, root.platformTop).form.angle);
  else if (closed) closeRing(mesh, 0, count, false);
  return { kind: 'mesh', positions: mesh.positions, triangles: mesh.triangles.slice(0, mesh.used) };
}
