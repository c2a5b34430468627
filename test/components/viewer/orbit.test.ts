import { describe, expect, it } from 'vitest';
import { axesOf, named, sideYaws, turned, zoomed } from '../../../components/viewer/orbit.ts';
import { nearestVertex, vertexShares } from '../../../components/viewer/vertex-steps.ts';

const start = { yaw: 0.3, pitch: -0.4, zoom: 1, panX: 0, panY: 0 };
const dot = (a: number[], b: number[]): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

describe('orbit', () => {
  it('has right-handed unit axes at every tilt, straight down included', () => {
    for (const pitch of [-Math.PI / 2, -0.4, 0, 1, Math.PI / 2]) {
      const { right, up, back } = axesOf({ yaw: 0.7, pitch });
      for (const a of [right, up, back]) expect(Math.hypot(...a)).toBeCloseTo(1, 14);
      expect(dot(right, up)).toBeCloseTo(0, 14);
      const cross = [
        right[1] * up[2] - right[2] * up[1],
        right[2] * up[0] - right[0] * up[2],
        right[0] * up[1] - right[1] * up[0],
      ];
      for (let k = 0; k < 3; k++) expect(cross[k]).toBeCloseTo(back[k], 14);
    }
  });
  it('stops tilting at straight down and zooming at its ends', () => {
    expect(turned(start, 0, -9).pitch).toBe(-Math.PI / 2);
    expect(zoomed(start, 1e9).zoom).toBe(400);
  });
  it('looks at the sides along their mean normals', () => {
    const drawing = {
      along: Float32Array.of(-10, -5, 0, 5, 10, Number.NaN),
      normals: Float32Array.of(1, 0, 0, 0, 1, 0, -1, 0, 0, 0, -1, 0, 1, 0, 0, 9, 9, 9),
    };
    const yaws = sideYaws(drawing);
    expect(yaws.suction).toBeCloseTo(Math.PI / 2, 6);
    expect(yaws.pressure).toBeCloseTo(-Math.PI / 2, 6);
    expect(Math.abs(yaws.leading)).toBeCloseTo(Math.PI, 6);
    expect(yaws.trailing).toBeCloseTo(0, 6);
    expect(axesOf(named('tip', yaws)).back[2]).toBeCloseTo(1, 14);
  });
});

describe('vertices', () => {
  const drawing = {
    along: Float32Array.of(-1, 0, 1, 2),
    height: Float32Array.of(0, 0, 5, 5),
    deviation: Float32Array.of(0.08, -0.2, 0, Number.NaN),
  };
  it('carries the shares beyond both limits and what is not measured', () => {
    const shares = vertexShares(drawing, () => ({ lower: -0.1, upper: 0.06 }));
    expect(shares[0]).toBeCloseTo(0.125, 6);
    expect(shares[4]).toBeCloseTo(0.625, 6);
    expect([...shares.slice(6, 9)].map((x) => Math.sign(x))).toEqual([-1, -1, 1]);
    expect(shares[11]).toBe(0);
  });
  it('measures one-sided limits by their distance from nominal', () => {
    const shares = vertexShares(drawing, () => ({ lower: -0.1, upper: null }));
    expect(shares[4]).toBeCloseTo(1, 6);
    expect(shares[0]).toBe(-1);
  });
  it('finds the vertex of a place', () => {
    expect(nearestVertex(drawing, 4.8, 1.2)).toBe(2);
    expect(nearestVertex({ along: new Float32Array(), height: new Float32Array() }, 0, 0)).toBe(-1);
  });
});
