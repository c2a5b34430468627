import { describe, expect, it } from 'vitest';
import { interpolateOutline } from '../../src/fit/interpolate-outline.ts';
import { findSectionEdges } from '../../src/fit/section-edges.ts';
import { measureSection } from '../../src/measure/measure-section.ts';
import type { SectionMeasures } from '../../src/model/results.ts';
import type { Value } from '../../src/model/value.ts';
import { CAMBERED, diskPoints, moved, sectionOf } from './shapes.ts';

const points = diskPoints(CAMBERED, 700, 300);
const reference = measureSection(sectionOf(points));

/** All value records of a measure by their path. */
function values(measures: object, path = ''): Map<string, Value> {
  const all = new Map<string, Value>();
  for (const [key, item] of Object.entries(measures)) {
    if (typeof item !== 'object' || item === null || key === 'evidence' || key === 'parameters') continue;
    if ('status' in item) all.set(path + key, item as Value);
    else for (const [k, v] of values(item, `${path}${key}.`)) all.set(k, v);
  }
  return all;
}

function expectSame(measures: SectionMeasures, turnedDeg: number) {
  for (const [path, value] of values(measures)) {
    const was = values(reference).get(path) as Value;
    expect(value.status).toBe(was.status);
    if (/pointX|pointY|centroid|chordAxial|ixx|iyy|ixy/.test(path) && turnedDeg !== 0) continue;
    const turns = /stagger|metal|principal/.test(path) ? turnedDeg : 0;
    expect(Math.abs((value.value as number) - (was.value as number) - turns), path).toBeLessThan(1e-6);
  }
}

describe('section measures', () => {
  it('move and turn with the section', () => {
    const turn = 23;
    const away = moved(points, (turn * Math.PI) / 180, [3, -8], 120, -45);
    expectSame(measureSection(sectionOf(away)), turn);
  });

  it('do not depend on the point the outline starts at', () => {
    const shift = 2 * 617;
    expectSame(measureSection(sectionOf(Float64Array.of(...points.slice(shift), ...points.slice(0, shift)))), 0);
  });

  it('know the sides when the section is mirrored', () => {
    const count = points.length / 2;
    const mirrored = Float64Array.from(points, (_, k) => {
      const i = count - 1 - (k >> 1);
      return k % 2 === 0 ? points[2 * i] : -points[2 * i + 1];
    });
    const outline = interpolateOutline(mirrored);
    const m = measureSection({ outline, edges: findSectionEdges(outline) });
    expect(m.camberAngleDeg.value).toBeCloseTo(-40, 6);
    expect(m.thicknessMax.value).toBeCloseTo(reference.thicknessMax.value as number, 8);
    const skew = (v: SectionMeasures) => v.trailingEdge.asymmetry.value as number;
    expect(skew(m)).toBeCloseTo(skew(reference), 8);
  });

  it('say what is missing where no points were measured', () => {
    const section = sectionOf(points);
    const { leading } = section.edges;
    const { period } = section.outline;
    const covered = (from: number, to: number) => {
      const at = leading - period * Math.floor((leading - from) / period);
      return at > to + 0.6 && at - period < from - 0.6;
    };
    const m = measureSection({ ...section, covered });
    for (const value of [
      m.leadingEdge.radiusFit,
      m.leadingEdge.radiusNose,
      m.leadingEdge.ellipseB,
      m.chordFar,
      m.chordCamber,
    ]) {
      expect(value).toMatchObject({ status: 'not-measured', value: null });
      expect(value.reason).toContain('leading edge');
    }
    expect(m.trailingEdge.radiusFit.status).toBe('ok');
    expect(m.thicknessMax.status).toBe('ok');
    expect(m.area.status).toBe('ok');
    const wide = (from: number, to: number) => {
      const at = leading - period * Math.floor((leading - from) / period);
      return at > to + 8 && at - period < from - 8;
    };
    expect(measureSection({ ...section, covered: wide }).area.status).toBe('not-measured');
  });
});
