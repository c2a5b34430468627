import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { exactBestFit } from '../../samples/best-fit.ts';
import { deform, nominalBlade } from '../../samples/blade.ts';
import { expectedValues } from '../../samples/expected.ts';
import { sampleSet } from '../../samples/generate.ts';
import { SAMPLE_DEFORMATION, SAMPLE_HEIGHTS } from '../../samples/scenario.ts';
import { evenHeights, exactSections } from '../../samples/tessellate.ts';
import { rotationLog } from '../../src/math/rigid.ts';
import { planSchema } from '../../src/model/plan.ts';

describe('the sample set', () => {
  const files = sampleSet({ points: 4000 });
  const read = (name: string) => new TextDecoder().decode(files.find((file) => file.name === name)?.bytes);

  it('holds the named files and lists them all', () => {
    expect(files.map(({ name }) => name)).toEqual([
      'nominal-sections.csv',
      'nominal.stl',
      'nominal-with-root.stl',
      'finished-scan.ply',
      'blank.ply',
      'blank-shift.ply',
      'blank-lost.ply',
      'blank-edges.ply',
      'plan.json',
      'expected.json',
      'README.txt',
    ]);
    for (const { name } of files.slice(0, -1)) expect(read('README.txt')).toContain(name);
    expect(read('nominal-sections.csv').trim().split('\n').length).toBe(2 + 21 * 400);
  });

  it('has a valid plan and finite expected values', () => {
    expect(v.safeParse(planSchema, JSON.parse(read('plan.json'))).issues).toBeUndefined();
    const expected = JSON.parse(read('expected.json'));
    expect(expected.sections.length).toBe(21);
    expect(expected.plantedMatrix.length).toBe(16);
    expect(expected.bestFitMatrix.every((value: number) => Number.isFinite(value))).toBe(true);
  });

  it('tells what is known of each blank', () => {
    const { blanks } = JSON.parse(read('expected.json'));
    const named = files.map(({ name }) => name).filter((name) => name.startsWith('blank'));
    expect(Object.keys(blanks)).toEqual(['wanted', ...named]);
    expect(blanks['blank-shift.ply'].shared.spare).toBeCloseTo(0.14, 12);
    expect(blanks['blank-lost.ply'].shared.spare).toBeCloseTo(-0.06, 12);
    for (const name of ['blank-shift.ply', 'blank-lost.ply']) {
      const { alongSpan, shared } = blanks[name];
      expect(alongSpan.map(({ up }: { up: number }) => up)).toEqual([-2, 0, 2]);
      expect(alongSpan[1].least).toBeCloseTo(shared.least, 9);
      alongSpan[1].matrix.forEach((value: number, i: number) => {
        expect(value).toBeCloseTo(shared.matrix[i], 7);
      });
    }
    expect(read('README.txt')).toContain('0.14 mm to spare');
  });

  it('makes single files on request, the same as in the whole set', () => {
    const some = sampleSet({ points: 4000, only: ['blank-shift.ply', 'plan.json'] });
    expect(some.map(({ name }) => name)).toEqual(['blank-shift.ply', 'plan.json']);
    for (const { name, bytes } of some) {
      const whole = files.find((file) => file.name === name)!;
      expect(Buffer.compare(whole.bytes, bytes), name).toBe(0);
    }
  });

  it('repeats itself byte for byte', () => {
    const again = sampleSet({ points: 4000 });
    files.forEach(({ name, bytes }, i) => {
      expect(Buffer.compare(again[i].bytes, bytes), name).toBe(0);
    });
  });

  it('plants twist, bow and one leading edge below its limit', () => {
    const nominal = nominalBlade();
    const expected = expectedValues(nominal, deform(nominal, SAMPLE_DEFORMATION), SAMPLE_HEIGHTS);
    expect(expected.bow).toBeCloseTo(0.08, 12);
    expect(expected.untwistDeg).toBeCloseTo(-0.25, 10);
    const low = expected.sections.filter(
      ({ nominal: from, measured: to }) => (to.leadingEdge.radiusFit ?? 0) < (from.leadingEdge.radiusFit ?? 0) - 0.03,
    );
    expect(low.map(({ id }) => id)).toEqual(['S03', 'S04']);
  });
});

describe('exact helpers', () => {
  it('runs sections counter-clockwise from the leading edge', () => {
    for (const { points } of exactSections(evenHeights(3), 200).sections) {
      let area = 0;
      for (let i = 0; i < points.length; i += 2) {
        const j = (i + 2) % points.length;
        area += (points[i] * points[j + 1] - points[j] * points[i + 1]) / 2;
      }
      expect(area).toBeGreaterThan(10);
      const x = points.filter((_, i) => i % 2 === 0);
      expect(x[0]).toBeLessThan(x[Math.floor(x.length / 2)]);
    }
  });

  it('finds a pure turn and shift of the blade as its best fit', () => {
    const nominal = nominalBlade();
    const pose = exactBestFit(nominal, deform(nominal, { twistDeg: [0.2] }));
    const [a, b, c] = rotationLog(pose.rotation).map((angle) => (angle * 180) / Math.PI);
    expect(a).toBeCloseTo(0, 9);
    expect(b).toBeCloseTo(0, 9);
    expect(c).toBeCloseTo(-0.2, 9);
    for (const shift of pose.translation) expect(shift).toBeCloseTo(0, 9);
  });
});
