import { describe, expect, it } from 'vitest';
import type { Mesh } from '../../src/model/shape.ts';
import { sliceMesh } from '../../src/section/slice-mesh.ts';

/** Upright prism over a closed counter-clockwise outline of radius r(angle), with rings at the heights; optional lids. */
function prism(sides: number, radius: (angle: number, z: number) => number, rings: number[], lids = true): Mesh {
  const positions: number[] = [];
  const triangles: number[] = [];
  for (const z of rings) {
    for (let i = 0; i < sides; i++) {
      const angle = (2 * Math.PI * i) / sides;
      positions.push(radius(angle, z) * Math.cos(angle), radius(angle, z) * Math.sin(angle), z);
    }
  }
  for (let r = 0; r + 1 < rings.length; r++) {
    for (let i = 0; i < sides; i++) {
      const a = r * sides + i;
      const b = r * sides + ((i + 1) % sides);
      triangles.push(a, b, b + sides, a, b + sides, a + sides);
    }
  }
  if (lids) {
    const top = (rings.length - 1) * sides;
    for (let i = 1; i + 1 < sides; i++) triangles.push(0, i + 1, i, top, top + i, top + i + 1);
  }
  return { kind: 'mesh', positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

function area(points: Float64Array): number {
  let sum = 0;
  for (let i = 0, j = points.length - 2; i < points.length; j = i, i += 2) {
    sum += points[j] * points[i + 1] - points[i] * points[j + 1];
  }
  return sum / 2;
}

describe('mesh slicing', () => {
  it('cuts a cone into closed counter-clockwise polygons of the right area', () => {
    const cone = prism(90, (_, z) => 5 - 0.1 * z, [0, 10, 20]);
    const heights = Float64Array.of(15, 2.5, 10);
    const loops = sliceMesh(cone, heights);
    expect(loops.map((list) => list.length)).toEqual([1, 1, 1]);
    heights.forEach((z, k) => {
      expect(loops[k][0].closed).toBe(true);
      const radius = 5 - 0.1 * z;
      const inscribed = 45 * radius * radius * Math.sin((2 * Math.PI) / 90);
      const circumferenceOk = area(loops[k][0].points);
      expect(circumferenceOk).toBeGreaterThan(inscribed * (1 - 2e-3));
      expect(circumferenceOk).toBeLessThanOrEqual(inscribed * (1 + 1e-12));
    });
    expect(area(loops[2][0].points)).toBeCloseTo(45 * 16 * Math.sin((2 * Math.PI) / 90), 10);
    expect(loops[2][0].points.length).toBe(180);
  });

  it('gives every point on the surface and in order', () => {
    const [[loop]] = sliceMesh(
      prism(400, () => 7, [0, 30]),
      Float64Array.of(11),
    );
    for (let i = 0; i < loop.points.length; i += 2) {
      const radius = Math.hypot(loop.points[i], loop.points[i + 1]);
      expect(radius).toBeLessThanOrEqual(7 + 1e-12);
      expect(radius).toBeGreaterThan(7 * Math.cos(Math.PI / 400) - 1e-12);
      const j = (i + 2) % loop.points.length;
      expect(Math.hypot(loop.points[j] - loop.points[i], loop.points[j + 1] - loop.points[i + 1])).toBeLessThan(0.12);
    }
  });

  it('reports an open line where two triangles are missing', () => {
    const whole = prism(40, () => 3, [0, 10], false);
    const torn: Mesh = { ...whole, triangles: whole.triangles.slice(6) };
    const [list] = sliceMesh(torn, Float64Array.of(4));
    expect(list.length).toBe(1);
    expect(list[0].closed).toBe(false);
    const [closed] = sliceMesh(whole, Float64Array.of(4));
    expect(closed[0].closed).toBe(true);
    expect(list[0].points.length).toBe(closed[0].points.length - 2);
  });

  it('separates loops of bodies side by side and one inside the other', () => {
    const outer = prism(60, () => 5, [0, 10], false);
    const inner = prism(60, () => 2, [0, 10], false);
    const offset = outer.positions.length / 3;
    const flipped = inner.triangles.map(
      (_, i) => inner.triangles[i % 3 === 1 ? i + 1 : i % 3 === 2 ? i - 1 : i] + offset,
    );
    const both: Mesh = {
      kind: 'mesh',
      positions: Float64Array.from([...outer.positions, ...inner.positions]),
      triangles: Uint32Array.from([...outer.triangles, ...flipped]),
    };
    const [list] = sliceMesh(both, Float64Array.of(5));
    const areas = list.map((loop) => area(loop.points)).sort((a, b) => a - b);
    expect(areas.length).toBe(2);
    expect(areas[0]).toBeCloseTo(-4 * 30 * Math.sin(Math.PI / 30), 1);
    expect(areas[1]).toBeGreaterThan(70);
  });

  it('gives nothing above and below the mesh and one loop on a plane through vertices', () => {
    const body = prism(30, () => 4, [0, 5, 10]);
    const loops = sliceMesh(body, Float64Array.of(-1, 5, 12, 0, 10));
    expect(loops[0]).toEqual([]);
    expect(loops[2]).toEqual([]);
    expect(loops[1].length).toBe(1);
    expect(loops[1][0].points.length).toBe(60);
    expect(loops[1][0].closed).toBe(true);
    expect(loops[3]).toEqual([]);
    expect(loops[4].length).toBe(1);
  });
});
