import { seededRandom } from '../../src/math/random.ts';

export interface TestMesh {
  positions: Float64Array;
  triangles: Uint32Array;
}

/** Unit cube from the origin, outward triangles. */
export function cube(): TestMesh {
  const positions = new Float64Array(24);
  for (let i = 0; i < 8; i++) positions.set([i & 1, (i >> 1) & 1, (i >> 2) & 1], 3 * i);
  const quads = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ];
  const triangles = new Uint32Array(quads.flatMap(([a, b, c, d]) => [a, b, c, a, c, d]));
  return { positions, triangles };
}

/** Closed prism of the outline (counter-clockwise, star-shaped about its first point) from z = 0 to `height`. */
export function prism(outline: [number, number][], height: number): TestMesh {
  const n = outline.length;
  const positions = new Float64Array([
    ...outline.flatMap(([x, y]) => [x, y, 0]),
    ...outline.flatMap(([x, y]) => [x, y, height]),
  ]);
  const triangles: number[] = [];
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    triangles.push(i, j, n + j, i, n + j, n + i);
    if (i > 0 && j > 0) triangles.push(0, j, i, n, n + i, n + j);
  }
  return { positions, triangles: new Uint32Array(triangles) };
}

/** Closed ball of about 2·n² triangles with seeded dents, centre at the origin. */
export function dentedBall(n: number, seed: number, radius = 1): TestMesh {
  const random = seededRandom(seed);
  const points: number[] = [0, 0, -radius];
  for (let j = 1; j < n; j++) {
    for (let i = 0; i < n; i++) {
      const polar = (Math.PI * j) / n;
      const turn = (2 * Math.PI * (i + 0.5 * (j & 1))) / n;
      const r = radius * (0.8 + 0.4 * random());
      points.push(r * Math.sin(polar) * Math.cos(turn), r * Math.sin(polar) * Math.sin(turn), -r * Math.cos(polar));
    }
  }
  points.push(0, 0, radius);
  const last = points.length / 3 - 1;
  const triangles: number[] = [];
  const at = (j: number, i: number) => 1 + (j - 1) * n + (((i % n) + n) % n);
  for (let i = 0; i < n; i++) {
    triangles.push(0, at(1, i + 1), at(1, i), last, at(n - 1, i), at(n - 1, i + 1));
    for (let j = 1; j < n - 1; j++) {
      triangles.push(at(j, i), at(j, i + 1), at(j + 1, i), at(j, i + 1), at(j + 1, i + 1), at(j + 1, i));
    }
  }
  return { positions: new Float64Array(points), triangles: new Uint32Array(triangles) };
}

/** Loose triangles, seeded, in the unit cube. */
export function triangleSoup(count: number, seed: number, size = 0.2): TestMesh {
  const random = seededRandom(seed);
  const positions = new Float64Array(9 * count);
  for (let t = 0; t < count; t++) {
    const centre = [random(), random(), random()];
    for (let k = 0; k < 9; k++) positions[9 * t + k] = centre[k % 3] + size * (random() - 0.5);
  }
  return { positions, triangles: Uint32Array.from({ length: 3 * count }, (_, i) => i) };
}

/** Seeded points in a cube about the origin. */
export function scatter(count: number, seed: number, half: number): Float64Array {
  const random = seededRandom(seed);
  return Float64Array.from({ length: 3 * count }, () => half * (2 * random() - 1));
}

export function moved(mesh: TestMesh, scale: number, shift = 0): TestMesh {
  return { positions: mesh.positions.map((v) => v * scale + shift), triangles: mesh.triangles };
}
