import { type OutlineSteps, outlinePlaces } from './outline-grid.ts';
import { closeRing, joinRings, type RingMesh } from './ring-mesh.ts';
import { LEADING, PRESSURE, SUCTION } from './section-form.ts';

/** A rectangular platform and a narrower rectangular block below it, turned with the lowest section (mm). */
export interface RootBlock {
  /** Height of the platform's upper face, and the fillet between it and the aerofoil. */
  platformTop: number;
  fillet: number;
  /** Length along and width across the chord, and thickness, of the platform. */
  platform: [number, number, number];
  block: [number, number, number];
}

/** Platform 64 × 30 × 5 mm and block 46 × 16 × 22 mm; the 4 mm fillet ends where the aerofoil's span begins. */
export const ROOT_BLOCK: RootBlock = { platformTop: -4, fillet: 4, platform: [64, 30, 5], block: [46, 16, 22] };

/** A rectangle with one node for every outline node: edge pieces on its short sides, flanks on its long sides. */
function rectangle(mesh: RingMesh, steps: OutlineSteps, size: number[], z: number, angle: number): number {
  const start = mesh.nodes;
  const [halfX, halfY] = [size[0] / 2, size[1] / 2];
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  for (const { piece, t } of outlinePlaces(steps)) {
    const flank = piece === PRESSURE || piece === SUCTION;
    const x = flank ? halfX * (2 * t - 1) : piece === LEADING ? -halfX : halfX;
    const y = flank ? (piece === SUCTION ? halfY : -halfY) : -halfY * t;
    mesh.positions.set([cos * x - sin * y, sin * x + cos * y, z], 3 * mesh.nodes);
    mesh.nodes++;
  }
  return start;
}

/** Adds platform and block below the lowest ring (node 0 on) of a mesh and closes it. */
export function appendRoot(mesh: RingMesh, root: RootBlock, steps: OutlineSteps, angle: number): void {
  const columns = outlinePlaces(steps).length;
  const low = root.platformTop - root.platform[2];
  const top = rectangle(mesh, steps, root.platform, root.platformTop, angle);
  const under = rectangle(mesh, steps, root.platform, low, angle);
  const neck = rectangle(mesh, steps, root.block, low, angle);
  const foot = rectangle(mesh, steps, root.block, low - root.block[2], angle);
  joinRings(mesh, top, 0, columns);
  joinRings(mesh, under, top, columns);
  joinRings(mesh, neck, under, columns);
  joinRings(mesh, foot, neck, columns);
  closeRing(mesh, foot, columns, false);
}
