/** Edges of a mesh, each once. */
export interface MeshEdges {
  /** Edge numbers of each triangle: first–second, first–third, second–third corner. */
  ofTriangle: Uint32Array;
  count: number;
}

/**
 * Numbers the edges of a mesh; an edge shared by triangles has one number, however many triangles meet there. Every
 * edge is kept in a chain at its end with fewer corners, which keeps chains short even around the hub of a fan.
 *
 * @param corners vertex numbers, three a triangle.
 * @param vertices number of vertices.
 */
export function meshEdges(corners: Uint32Array, vertices: number): MeshEdges {
  const valence = new Uint32Array(vertices);
  for (let k = 0; k < corners.length; k++) valence[corners[k]]++;
  const heads = new Int32Array(vertices).fill(-1);
  const others = new Uint32Array(corners.length);
  const next = new Int32Array(corners.length);
  const ofTriangle = new Uint32Array(corners.length);
  let count = 0;
  for (let k = 0; k < corners.length; k++) {
    const place = k % 3;
    const p = corners[place === 2 ? k - 1 : k - place];
    const q = corners[place === 0 ? k + 1 : place === 1 ? k + 1 : k];
    const home = valence[p] < valence[q] || (valence[p] === valence[q] && p < q) ? p : q;
    const other = home === p ? q : p;
    let edge = heads[home];
    while (edge >= 0 && others[edge] !== other) edge = next[edge];
    if (edge < 0) {
      edge = count++;
      others[edge] = other;
      next[edge] = heads[home];
      heads[home] = edge;
    }
    ofTriangle[k] = edge;
  }
  return { ofTriangle, count };
}
