import { describe, expect, test } from 'vitest';
import { formAt, nominalBlade } from '../../samples/blade.ts';
import { sectionValues } from '../../samples/section-values.ts';
import { evenHeights, exactSections, makeMesh } from '../../samples/tessellate.ts';
import { measureShape } from '../../src/measure-shape.ts';
import type { SectionMeasures, SectionResult } from '../../src/model/results.ts';
import type { Shape } from '../../src/model/shape.ts';
import { loaded } from '../support/loaded.ts';

const LENGTHS = [
  'chordFar',
  'chordBitangent',
  'chordAxial',
  'chordCamber',
  'perimeter',
  'centroidX',
  'centroidY',
] as const;
const ANGLES = [
  'staggerFarDeg',
  'staggerBitangentDeg',
  'staggerCamberDeg',
  'principalAxisDeg',
  'camberAngleDeg',
  'metalAngleLeadingDeg',
  'metalAngleTrailingDeg',
] as const;

async function measure(shape: Shape, heights: number[] | null): Promise<SectionResult[]> {
  const { results } = await measureShape({ shape: loaded(shape), settings: { heights } }, {});
  return results.sections;
}

function number(value: { value: number | null }): number {
  return value.value ?? Number.NaN;
}

/** Largest errors of a section against the closed form: lengths, angles (degrees), thickness, edge radii. */
function errors(own: SectionMeasures, height: number) {
  const { form } = formAt(nominalBlade(), height);
  const exact = sectionValues(form);
  const worst = (names: readonly (keyof SectionMeasures & keyof typeof exact)[]): number =>
    Math.max(...names.map((name) => Math.abs(number(own[name] as { value: number | null }) - (exact[name] as number))));
  const thickness = [
    number(own.thicknessMax) - exact.thicknessMax,
    ...own.thicknessAt.map(
      (entry) => number(entry) - exact.thicknessAt.find((known) => known.fraction === entry.fraction)!.value,
    ),
  ];
  return {
    length: worst(LENGTHS),
    angle: worst(ANGLES),
    thickness: Math.max(...thickness.map(Math.abs)),
    area: Math.abs(number(own.area) - exact.area),
    radius: Math.max(
      Math.abs(number(own.leadingEdge.radiusFit) - form.leading),
      Math.abs(number(own.trailingEdge.radiusFit) - form.trailing),
    ),
  };
}

describe('measureShape, noise-free', () => {
  test('a section table gives the closed form', async () => {
    const sections = await measure(exactSections(evenHeights(6), 800), null);
    expect(sections).toHaveLength(6);
    for (const section of sections) {
      const found = errors(section.measured!, section.height);
      expect(found.length, section.id).toBeLessThan(1e-4);
      expect(found.angle, section.id).toBeLessThan(1e-3);
      expect(found.thickness, section.id).toBeLessThan(1e-4);
      expect(found.area, section.id).toBeLessThan(1e-3);
      expect(found.radius, section.id).toBeLessThan(1e-3);
    }
  });

  test('a mesh gives the closed form, between its rows too', async () => {
    const sections = await measure(makeMesh({ rows: 121, columns: 800 }), [0.7, 33.3, 60, 90.25, 119]);
    expect(sections).toHaveLength(5);
    for (const section of sections) {
      const found = errors(section.measured!, section.height);
      expect(found.length, section.id).toBeLessThan(1e-4);
      expect(found.angle, section.id).toBeLessThan(1e-3);
      expect(found.thickness, section.id).toBeLessThan(1e-4);
      expect(found.area, section.id).toBeLessThan(1e-3);
      expect(found.radius, section.id).toBeLessThan(1e-3);
    }
  });
});
