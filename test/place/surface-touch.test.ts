import { describe, expect, test } from 'vitest';
import type { Vec3 } from '../../src/math/vec3.ts';
import type { Mesh } from '../../src/model/shape.ts';
import { sphereAbout, staysNear } from '../../src/place/surface-touch.ts';
import { cloudTouch } from '../../src/place/surface-touch-cloud.ts';
import { meshTouch } from '../../src/place/surface-touch-mesh.ts';
import { boxMesh, scatter } from './datum-parts.ts';

/** A globe of rings and columns, every node on the sphere about the origin. */
function globe(radius: number, rings: number, columns: number): Mesh {
  const positions: number[] = [0, 0, -radius];
  for (let r = 1; r < rings; r++)
    for (let c = 0; c < columns; c++) {
      const [t, p] = [(Math.PI * r) / rings, (2 * Math.PI * c) / columns];
      positions.push(radius * Math.sin(t) * Math.cos(p), radius * Math.sin(t) * Math.sin(p), -radius * Math.cos(t));
    }
  positions.push(0, 0, radius);
  const top = positions.length / 3 - 1;
  const at = (r: number, c: number) => (r === 0 ? 0 : r === rings ? top : 1 + (r - 1) * columns + (c % columns));
  const triangles: number[] = [];
  for (let r = 0; r < rings; r++)
    for (let c = 0; c < columns; c++) {
      if (r > 0) triangles.push(at(r, c), at(r, c + 1), at(r + 1, c));
      if (r < rings - 1) triangles.push(at(r + 1, c), at(r, c + 1), at(r + 1, c + 1));
    }
  return { kind: 'mesh', positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

const BOX = boxMesh([-10, -10, -10], [10, 10, 10]);
const unit = (a: Vec3): Vec3 => {
  const length = Math.hypot(...a);
  return [a[0] / length, a[1] / length, a[2] / length];
};

describe('a line on triangles', () => {
  const touch = meshTouch(BOX, 0, sphereAbout(BOX.positions));
  test('meets a plane where the closed form has it, on triangle sides too', () => {
    for (const [x, y] of [
      [3, 1],
      [4, 4],
      [0, 0],
    ]) {
      const normal = unit([0.3, -0.2, 1]);
      const found = touch({ point: [x, y, 8.5], normal });
      expect(found).toMatchObject({ meets: true });
      expect(found!.along).toBeCloseTo(1.5 / normal[2], 12);
    }
  });
  test('takes the side that faces the target, though the other is nearer', () => {
    expect(touch({ point: [1, 2, -8], normal: [0, 0, 1] })!.along).toBeCloseTo(18, 12);
  });
  test('beside the part, the nearest facing place stands in', () => {
    expect(touch({ point: [10.5, 3, 9], normal: [0, 0, 1] })).toEqual({ along: 1, meets: false, u: 0 });
  });
  test('gathers anew when the line has left its tube', () => {
    const [far, near] = [
      { point: [9, 9, 10] as Vec3, normal: [0, 0, 1] as Vec3 },
      { point: [-9, -9, 10] as Vec3, normal: [0, 0, 1] as Vec3 },
    ];
    expect(staysNear(far, near, sphereAbout(BOX.positions), 1)).toBe(false);
    expect(staysNear(far, { ...far, point: [9.5, 9, 3] }, sphereAbout(BOX.positions), 1)).toBe(true);
    expect(touch(near)!.meets && touch(far)!.meets).toBe(true);
  });
});

describe('a ball on a line', () => {
  const r = 2;
  const onBox = meshTouch(BOX, r, sphereAbout(BOX.positions));
  test('rests on a plane: r / cos of the lean', () => {
    const normal = unit([0.3, -0.2, 1]);
    const found = onBox({ point: [2, 1, 9], normal });
    expect(found!.along).toBeCloseTo((1 + r) / normal[2] - r, 12);
  });
  test('rests on an edge and on a corner: Pythagoras', () => {
    const edge = onBox({ point: [11, 3, 10], normal: [0, 0, 1] });
    expect(edge!.along).toBeCloseTo(Math.sqrt(r * r - 1) - r, 12);
    const corner = onBox({ point: [11, 10.5, 10], normal: [0, 0, 1] });
    expect(corner!.along).toBeCloseTo(Math.sqrt(r * r - 1 - 0.25) - r, 12);
  });
  test('rests on a sphere: √((R + r)² − d²), within the depth of the facets', () => {
    const [radius, rings, columns] = [5, 150, 300];
    const mesh = globe(radius, rings, columns);
    const step = (2 * Math.PI * radius) / columns;
    const depth = step ** 2 / (8 * radius) + ((Math.PI * radius) / rings) ** 2 / (8 * radius);
    const touch = meshTouch(mesh, r, sphereAbout(mesh.positions));
    for (const d of [0, 0.7, 2.1]) {
      const along = Math.sqrt((radius + r) ** 2 - d * d);
      const found = touch({ point: [d, 0, radius], normal: [0, 0, 1] })!;
      const lean = along / (radius + r);
      expect(found.along + r + radius).toBeLessThan(along + 1e-9);
      expect(found.along + r + radius).toBeGreaterThan(along - depth / lean);
    }
  });
  test('rests on a cloud of a sphere to its noise, and of an exact plane to 1e-9', () => {
    const radius = 5;
    const noise = 0.004;
    const cloud = scatter(globe(radius, 200, 400), 60_000, noise, 3);
    const touch = cloudTouch(cloud, r, sphereAbout(cloud.positions));
    for (const d of [0, 0.7, 2.1]) {
      const found = touch({ point: [d, 0, radius], normal: [0, 0, 1] })!;
      expect(found.meets).toBe(true);
      expect(found.u).toBeLessThan(noise / 2);
      const depth = (Math.PI / 200) ** 2 * radius;
      expect(Math.abs(found.along + r + radius - Math.sqrt((radius + r) ** 2 - d * d))).toBeLessThan(
        4 * found.u + depth,
      );
    }
    const plane = scatter(BOX, 60_000, 0, 4);
    const normal = unit([0.3, -0.2, 1]);
    const found = cloudTouch(plane, r, sphereAbout(plane.positions))({ point: [2, 1, 9.9], normal })!;
    expect(found.along).toBeCloseTo((0.1 + r) / normal[2] - r, 9);
  });
});

describe('a line on a cloud', () => {
  test('with normals takes the side that faces the target; stray points do not count', () => {
    const plain = scatter(BOX, 60_000, 0.005, 9);
    const count = plain.positions.length / 3;
    const normals = new Float64Array(3 * count);
    for (let i = 0; i < 3 * count; i += 3) {
      const p = [0, 1, 2].map((k) => plain.positions[i + k]);
      const axis = p.reduce((best, value, k) => (Math.abs(value) > Math.abs(p[best]) ? k : best), 0);
      normals[i + axis] = Math.sign(p[axis]);
    }
    const positions = plain.positions.slice();
    for (let i = 0; i < 3 * count; i += 3) if (normals[i + 2] === 1 && (i / 3) % 20 === 0) positions[i + 2] += 0.3;
    const touch = cloudTouch({ kind: 'cloud', positions, normals }, 0, sphereAbout(positions));
    const found = touch({ point: [1, 2, -8], normal: [0, 0, 1] })!;
    expect(found.meets).toBe(true);
    expect(Math.abs(found.along - 18)).toBeLessThan(0.003);
  });
  test('a line where nothing was measured is not met', () => {
    const cloud = scatter(BOX, 60_000, 0, 9);
    expect(
      cloudTouch(cloud, 0, sphereAbout(cloud.positions))({ point: [10.4, 3, 10], normal: [0, 0, 1] }),
    ).toMatchObject({
      meets: false,
    });
    expect(cloudTouch(cloud, 0, sphereAbout(cloud.positions))({ point: [40, 3, 10], normal: [0, 0, 1] })).toBeNull();
  });
});
