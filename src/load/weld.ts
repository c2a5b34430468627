import { hashPoint } from './hash-points.ts';
import { type DoubleStore, doubleStore, push3 } from './stores.ts';

/** Gives equal corners of loose triangles one vertex. */
export interface Welder {
  /** Vertices so far. */
  positions: DoubleStore;
  /** Returns the index of the vertex with exactly these finite coordinates, adding it when new; −0 counts as +0. */
  vertex(x: number, y: number, z: number): number;
}

/** Returns an empty welder: a hash table over the bits of the coordinates, doubled when 60 % full. */
export function createWelder(input: { name: string }, expected: number): Welder {
  let size = 1024;
  while (size < 1.6 * expected) size *= 2;
  let table = new Uint32Array(size);
  const positions = doubleStore(3 * expected);
  let count = 0;

  function grow(): void {
    size *= 2;
    table = new Uint32Array(size);
    const { data } = positions;
    for (let i = 0; i < count; i++) {
      let slot = hashPoint(data[3 * i], data[3 * i + 1], data[3 * i + 2]) & (size - 1);
      while (table[slot] !== 0) slot = (slot + 1) & (size - 1);
      table[slot] = i + 1;
    }
  }

  function vertex(x: number, y: number, z: number): number {
    const mask = size - 1;
    let slot = hashPoint(x, y, z) & mask;
    const { data } = positions;
    for (;;) {
      const other = table[slot];
      if (other === 0) break;
      const at = 3 * (other - 1);
      if (data[at] === x && data[at + 1] === y && data[at + 2] === z) return other - 1;
      slot = (slot + 1) & mask;
    }
    push3(positions, x + 0, y + 0, z + 0, input);
    table[slot] = ++count;
    if (count > 0.6 * size) grow();
    return count - 1;
  }

  return { positions, vertex };
}
