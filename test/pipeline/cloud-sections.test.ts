import { describe, expect, test } from 'vitest';
import { formAt, nominalBlade } from '../../samples/blade.ts';
import { makeScan } from '../../samples/scan.ts';
import { sectionValues } from '../../samples/section-values.ts';
import { measureShape } from '../../src/measure-shape.ts';
import type { SectionResult } from '../../src/model/results.ts';
import type { Cloud } from '../../src/model/shape.ts';
import { loaded } from '../support/loaded.ts';

const HEIGHTS = [30, 60, 90];

async function measure(cloud: Cloud): Promise<SectionResult[]> {
  const { results } = await measureShape({ shape: loaded(cloud), settings: { heights: HEIGHTS } }, {});
  return results.sections;
}

/** Error of each characteristic against the closed form (mm). */
function errors(section: SectionResult) {
  const { form } = formAt(nominalBlade(), section.height);
  const exact = sectionValues(form);
  const own = section.measured!;
  const off = (value: { value: number | null }, truth: number) => Math.abs((value.value ?? Number.NaN) - truth);
  return {
    thickness: off(own.thicknessMax, exact.thicknessMax),
    chord: off(own.chordFar, exact.chordFar),
    camber: off(own.camberMax, exact.camberMax),
    leading: off(own.leadingEdge.radiusFit, form.leading),
    trailing: off(own.trailingEdge.radiusFit, form.trailing),
  };
}

describe('measureShape of a cloud without a nominal', () => {
  for (const [seed, outliers] of [
    [3, 0],
    [2, 0.003],
  ]) {
    test(`finds the blade's own sections through 5 µm noise and a share of ${outliers} stray points`, async () => {
      const sections = await measure(makeScan({ points: 150_000, noise: 0.005, seed, outliers }).cloud);
      expect(sections.map((section) => section.height)).toEqual(HEIGHTS);
      for (const section of sections) {
        const found = errors(section);
        expect(section.coverage, section.id).toBeGreaterThan(0.999);
        expect(found.thickness, section.id).toBeLessThan(0.003);
        expect(found.chord, section.id).toBeLessThan(0.006);
        expect(found.camber, section.id).toBeLessThan(0.01);
        expect(found.leading, section.id).toBeLessThan(0.02);
        expect(found.trailing, section.id).toBeLessThan(0.02);
      }
    }, 30_000);
  }

  test('refuses a blade that lies along X', async () => {
    const { positions } = makeScan({ points: 30_000, noise: 0.005, seed: 5 }).cloud;
    const lying = positions.map((_, k) => positions[k - (k % 3) + (((k % 3) + 2) % 3)]);
    await expect(measure({ kind: 'cloud', positions: lying })).rejects.toMatchObject({
      code: 'shape/no-closed-section',
    });
  }, 30_000);
});
