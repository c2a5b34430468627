import { type ClosestTriangles, closestTriangles } from '../spatial/closest-triangle.ts';
import { type Feet, nominalFeet } from '../spatial/nominal-feet.ts';
import type { NominalTarget } from '../spatial/nominal-target.ts';
import type { TriangleTree } from '../spatial/triangle-tree.ts';

/**
 * A computation over many points that can be cut anywhere: the answer for a point depends on that point and on the
 * shared data only. `out` holds typed arrays whose lengths are multiples of the number of points.
 */
export interface ChunkKernel<Shared, Out> {
  run(shared: Shared, points: Float64Array, order: Uint32Array | null, from: number, to: number, out: Out): void;
}

/** Shared data of `closest-triangles`. */
export interface ClosestTarget {
  tree: TriangleTree;
  /** Greatest distance looked for (mm); absent: any. */
  maxDistance?: number;
}

const closest: ChunkKernel<ClosestTarget, ClosestTriangles> = {
  run: (shared, points, order, from, to, out) =>
    closestTriangles(shared.tree, points, order, from, to, out, shared.maxDistance),
};

/** Shared data of `nominal-feet`. */
export interface FeetTarget {
  target: NominalTarget;
  /** Greatest distance looked for (mm); absent: any. */
  maxDistance?: number;
}

const feet: ChunkKernel<FeetTarget, Feet> = {
  run: (shared, points, order, from, to, out) =>
    nominalFeet(shared.target, points, order, from, to, out, shared.maxDistance),
};

/** The computations that chunk workers know, by name. */
export const chunkKernels = {
  'closest-triangles': closest,
  'nominal-feet': feet,
} as const;

export type ChunkKernelName = keyof typeof chunkKernels;

/** Data and result types of a kernel. */
export type KernelShared<Name extends ChunkKernelName> = Parameters<(typeof chunkKernels)[Name]['run']>[0];
export type KernelOut<Name extends ChunkKernelName> = Parameters<(typeof chunkKernels)[Name]['run']>[5];

/** Returns a kernel by name, without its types: the data came through a message. */
export function kernelNamed(name: ChunkKernelName): ChunkKernel<unknown, object> {
  return chunkKernels[name] as ChunkKernel<unknown, object>;
}
