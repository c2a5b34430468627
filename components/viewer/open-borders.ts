/** Edges that only one triangle has, as pairs of vertices: where a surface ends. */
export function borderOf(triangles: ArrayLike<number>): Uint32Array {
  const seen = new Map<string, [number, number] | null>();
  for (let t = 0; t < triangles.length; t += 3) {
    for (let k = 0; k < 3; k++) {
      const [a, b] = [triangles[t + k], triangles[t + ((k + 1) % 3)]];
      const key = a < b ? `${a} ${b}` : `${b} ${a}`;
      seen.set(key, seen.has(key) ? null : [a, b]);
    }
  }
  return Uint32Array.from([...seen.values()].flatMap((edge) => edge ?? []));
}
