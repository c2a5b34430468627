import { describe, expect, it } from 'vitest';
import { interpolateOutline } from '../../src/fit/interpolate-outline.ts';
import { evaluateOutline } from '../../src/fit/outline-evaluate.ts';
import { findSectionEdges, type SectionEdgesOptions } from '../../src/fit/section-edges.ts';
import { movedPoints, reversedPoints, rotatedStart } from '../support/noise.ts';
import {
  discSection,
  ellipseSection,
  flatBackSection,
  joukowskiSection,
  nacaSection,
  plateSection,
  sectionCorners,
  sectionPoints,
  type TestSection,
} from '../support/sections.ts';

function edgesOf(points: Float64Array, corners: readonly number[], options: SectionEdgesOptions = {}) {
  const outline = interpolateOutline(points, { corners });
  const edges = findSectionEdges(outline, options);
  const out = new Float64Array(8);
  evaluateOutline(outline, edges.leading, out);
  const leading = [out[0], out[1]];
  evaluateOutline(outline, edges.trailing, out);
  return { leading, trailing: [out[0], out[1]], firstSide: edges.firstSide };
}

describe('section edges', () => {
  const cases: [TestSection, number[], number[]][] = [
    [ellipseSection(20, 2), [-20, 0], [20, 0]],
    [plateSection(40, 1, 1), [-20, 0], [20, 0]],
    [plateSection(40, 3, 1), [-20, 0], [20, 0]],
    [discSection(), [-17.570853, -0.17101], [17.382915, -0.102606]],
    [nacaSection(0.12, 40), [0, 0], [40, 0]],
    [joukowskiSection(), [-2.033333, 0], [2, 0]],
    [flatBackSection(), [-1, 0], [30, 0]],
  ];
  for (const [section, leading, trailing] of cases) {
    it(`of the ${section.name} are its noses, corner or middle of the flat`, () => {
      const edges = edgesOf(sectionPoints(section, 2000), sectionCorners(section, 2000));
      for (let k = 0; k < 2; k++) {
        expect(edges.leading[k]).toBeCloseTo(leading[k], 4);
        expect(edges.trailing[k]).toBeCloseTo(trailing[k], 4);
      }
      expect(edges.firstSide).toBe('pressure');
    });
  }

  it('follow the direction or the hint that says where the leading edge is', () => {
    const points = sectionPoints(discSection(), 2000);
    const towards = edgesOf(points, [], { leadingEdgeTowards: '+X' });
    expect(towards.leading[0]).toBeCloseTo(17.382915, 4);
    expect(towards.firstSide).toBe('suction');
    const hinted = edgesOf(points, [], { hint: { leading: [17, 0], trailing: [-17, 0] } });
    expect(hinted.leading[0]).toBeCloseTo(17.382915, 4);
    const upright = movedPoints(points, Math.PI / 2, 0, 0);
    expect(edgesOf(upright, [], { leadingEdgeTowards: '-Y' }).leading[1]).toBeCloseTo(-17.570853, 4);
    const mirrored = reversedPoints(points.map((value, i) => (i & 1 ? -value : value)));
    expect(edgesOf(mirrored, []).firstSide).toBe('suction');
  });

  it('move with the section and do not depend on the start of the points', () => {
    const points = sectionPoints(discSection(), 2000);
    const plain = edgesOf(points, []);
    const moved = edgesOf(movedPoints(rotatedStart(points, 431), -0.6, 7, 50), []);
    const expected = movedPoints(Float64Array.from([...plain.leading, ...plain.trailing]), -0.6, 7, 50);
    [...moved.leading, ...moved.trailing].forEach((value, k) => {
      expect(value).toBeCloseTo(expected[k], 5);
    });
  });
});
