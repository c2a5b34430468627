/** Growing lists of a mesh made of rings with the same number of nodes. */
export interface RingMesh {
  positions: Float64Array;
  triangles: Uint32Array;
  nodes: number;
  used: number;
}

/** Joins two neighbouring rings of `columns` nodes; the second lies towards +Z of (or inside) the first. */
export function joinRings(mesh: RingMesh, first: number, second: number, columns: number): void {
  for (let i = 0; i < columns; i++) {
    const j = (i + 1) % columns;
    mesh.triangles.set([first + i, first + j, second + j, first + i, second + j, second + i], mesh.used);
    mesh.used += 6;
  }
}

/** Closes a ring by rungs between its two sides; `up` when the outside is towards +Z. */
export function closeRing(mesh: RingMesh, ring: number, columns: number, up: boolean): void {
  const add = (a: number, b: number, c: number) => {
    mesh.triangles.set(up ? [ring + a, ring + b, ring + c] : [ring + a, ring + c, ring + b], mesh.used);
    mesh.used += 3;
  };
  const half = columns / 2;
  for (let i = 0; i < half; i++) {
    const left = (columns - i) % columns;
    const nextLeft = columns - i - 1;
    if (left !== i) add(left, i, i + 1);
    if (nextLeft !== i + 1) add(left, i + 1, nextLeft);
  }
}
