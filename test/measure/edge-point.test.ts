import { describe, expect, it } from 'vitest';
import type { EdgeName } from '../../src/measure/definitions/definition.ts';
import { edgesOf } from './edge-shapes.ts';
import { CAMBERED, diskPoints, moved, nacaPoints, platePoints, sectionOf } from './shapes.ts';

describe('edge points of a cambered section', () => {
  const points = diskPoints(CAMBERED, 1400, 600);
  const at = edgesOf(sectionOf(points));
  const point = (edge: EdgeName, id: string, parameters = {}) =>
    (['edge-point-x', 'edge-point-y'] as const).map((q) => at(edge, q, id, parameters).value as number);
  const end = 50 * Math.sin(Math.PI / 9);
  it('lie on the straight extension and on the arc', () => {
    for (const [edge, sign, r] of [
      ['leading', -1, 0.5],
      ['trailing', 1, 0.3],
    ] as const) {
      const [sx, sy] = point(edge, 'EP-CAM');
      expect(sx).toBeCloseTo(sign * (end + r * Math.cos(Math.PI / 9)), 5);
      expect(sy).toBeCloseTo(-r * Math.sin(Math.PI / 9), 5);
      const angle = Math.PI / 9 + 2 * Math.asin(r / 100);
      const [ax, ay] = point(edge, 'EP-CAM', { extension: 'arc' });
      expect(ax).toBeCloseTo(sign * 50 * Math.sin(angle), 5);
      expect(ay).toBeCloseTo(50 * (Math.cos(angle) - Math.cos(Math.PI / 9)), 5);
    }
  });
  it('are the ends of the longest chord, also as a fixed point of direction', () => {
    for (const [id, parameters] of [
      ['EP-FAR', {}],
      ['EP-EXT', {}],
      ['EP-EXT', { direction: 'axial' }],
    ] as const) {
      const [x, y] = point('leading', id, parameters);
      expect(x).toBeCloseTo(-end - 0.5, 6);
      expect(y).toBeCloseTo(0, 5);
    }
  });
  it('are extremal along X where the section is turned', () => {
    const angle = (30 * Math.PI) / 180;
    const turned = edgesOf(sectionOf(moved(points, angle, [0, 0], 0, 0)));
    const x = turned('leading', 'edge-point-x', 'EP-EXT', { direction: 'axial' }).value as number;
    const y = turned('leading', 'edge-point-y', 'EP-EXT', { direction: 'axial' }).value as number;
    expect(x).toBeCloseTo(-end * Math.cos(angle) - 0.5, 5);
    expect(y).toBeCloseTo(-end * Math.sin(angle), 3);
  });
  it('have no greatest curvature on a round edge, and one on an elliptic or sharp edge', () => {
    expect(at('leading', 'edge-point-x', 'EP-CUR')).toMatchObject({ status: 'not-applicable', value: null });
    const ellipse = edgesOf(sectionOf(platePoints(40, 3, 1, 1000, 1000)));
    expect(ellipse('trailing', 'edge-point-x', 'EP-CUR').value).toBeCloseTo(20, 4);
    expect(ellipse('trailing', 'edge-point-y', 'EP-CUR').value).toBeCloseTo(0, 3);
    const naca = edgesOf(sectionOf(nacaPoints(1, 1000), [0]));
    expect(naca('trailing', 'edge-point-x', 'EP-CUR').value).toBeCloseTo(1, 9);
  });
});
