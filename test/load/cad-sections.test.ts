import { describe, expect, test } from 'vitest';
import { nominalBlade } from '../../samples/blade.ts';
import { evenHeights, exactSections } from '../../samples/tessellate.ts';
import { bladeToBsplines } from '../../src/fit/blade-to-bsplines.ts';
import { nominalFromTable } from '../../src/fit/nominal-blade.ts';
import { iges } from '../../src/load/iges-format.ts';
import { step } from '../../src/load/step-format.ts';
import type { BsplineSet } from '../../src/model/bspline.ts';
import type { NominalSurface } from '../../src/model/surface.ts';
import { igesText } from '../../src/report/iges-write.ts';
import { stepText } from '../../src/report/step-write.ts';
import { emptyFeet, nominalFeet } from '../../src/spatial/nominal-feet.ts';
import { makeNominalTarget } from '../../src/spatial/nominal-target.ts';
import { evaluateSurface, PLACE_SIZE } from '../../src/spatial/surface-evaluate.ts';
import { awkwardPatch, ellipseCurve, ellipticTaper, OPTIONS, taperSet } from './cad-parts.ts';
import { bytesOf, failure, read, readSections } from './read.ts';

const MICRON = 1e-3;

/** Largest distance of places of one nominal from another, at heights (mm). */
function apart(one: NominalSurface, other: NominalSurface, heights: readonly number[]): number {
  const places: number[] = [];
  const out = new Float64Array(PLACE_SIZE);
  for (const z of heights) {
    for (let i = 0; i < 300; i++) {
      const last = one.columns.length - 1;
      evaluateSurface(one, one.columns[0] + ((one.columns[last] - one.columns[0]) * i) / 300, z, out);
      places.push(out[0], out[1], out[2]);
    }
  }
  const feet = emptyFeet(places.length / 3);
  nominalFeet(makeNominalTarget(other), Float64Array.from(places), null, 0, places.length / 3, feet);
  let most = 0;
  for (const deviation of feet.deviation) most = Math.max(most, Math.abs(deviation));
  return most;
}

describe('a nominal written as a CAD file is the same nominal when read', () => {
  const heights = evenHeights(21);
  const blade = nominalFromTable(exactSections(heights, 400), {});
  const { set, fromSections, between } = bladeToBsplines(blade, 'blade');

  test('the difference of the file is far below a micrometre', () => {
    expect(fromSections).toBeLessThan(0.01 * MICRON);
    expect(between).toBeLessThan(1e-3 * MICRON);
  });

  test.each([
    ['step', stepText(set, OPTIONS)],
    ['iges', igesText(set, OPTIONS)],
    ['iges', igesText(set, { ...OPTIONS, unit: 'inch' })],
  ])('%s (%#)', async (format, text) => {
    const loaded = await read(text);
    expect([loaded.format, loaded.unitStated, loaded.warnings]).toEqual([format, true, []]);
    if (loaded.shape.kind !== 'sections') throw new Error(loaded.shape.kind);
    expect(loaded.shape.sections.map(({ id }) => id)).toEqual(blade.surface.sectionIds);
    loaded.shape.sections.forEach(({ height, points }, k) => {
      expect(height).toBeCloseTo(heights[k], 12);
      expect(points.length / 2).toBeGreaterThanOrEqual(400);
    });
    const again = nominalFromTable(loaded.shape, {});
    expect(again.warnings).toEqual([]);
    expect(apart(blade.surface, again.surface, heights.slice(1, -1))).toBeLessThan(0.1 * MICRON);
    expect(apart(blade.surface, again.surface, [0.7, 2.9, 33, 61.7, 99, 119.1])).toBeLessThan(0.1 * MICRON);
  });

  test('three sections, strongly turned, get as many as it takes', async () => {
    const few = nominalFromTable(exactSections([0, 60, 120], 400, nominalBlade({ bow: [3, 2] })), {});
    const again = nominalFromTable(await readSections(stepText(bladeToBsplines(few, '').set, OPTIONS)), {});
    expect(again.surface.heights.length).toBeGreaterThan(3);
    expect(apart(few.surface, again.surface, [3, 17, 31, 60, 77, 104, 118])).toBeLessThan(MICRON);
  });
});

test('a rational taper gives its ellipses, named as the curves at their heights', async () => {
  for (const text of [stepText(taperSet(), OPTIONS), igesText(taperSet(), OPTIONS)]) {
    const { sections } = await readSections(text);
    expect(sections.map(({ id, height }) => [id, height])).toEqual([
      ['A', 0],
      ['B', 30],
    ]);
    for (const { height, points } of sections) {
      const [a, b] = height === 0 ? [20, 4] : [16, 3];
      for (let i = 0; i < points.length; i += 2) {
        expect((points[i] / a) ** 2 + (points[i + 1] / b) ** 2).toBeCloseTo(1, 12);
      }
    }
  }
});

test('a surface whose u runs along the height, or downwards, gives the same sections', async () => {
  const taper = ellipticTaper();
  const order = Array.from({ length: 18 }, (_, k) => (k % 2) * 9 + Math.floor(k / 2));
  const pick = (from: Float64Array, size: number): Float64Array =>
    Float64Array.from(order.flatMap((k) => Array.from(from.subarray(size * k, size * k + size))));
  const swapped = {
    degreeU: 1,
    degreeV: 2,
    knotsU: taper.knotsV,
    knotsV: taper.knotsU,
    countU: 2,
    countV: 9,
    poles: pick(taper.poles, 3),
    weights: pick(taper.weights!, 1),
  };
  const downwards = { ...taper, poles: taper.poles.map((value, k) => (k % 3 === 2 ? 30 - value : value)) };
  const expected = await readSections(stepText({ ...taperSet(), curves: [] }, OPTIONS));
  const one = { surfaces: [{ name: '', surface: swapped }], curves: [] };
  expect(await readSections(stepText(one, OPTIONS))).toEqual(expected);
  const other = await readSections(stepText({ surfaces: [{ name: '', surface: downwards }], curves: [] }, OPTIONS));
  expect(other.sections.map(({ id, height }) => [id, height])).toEqual([
    ['s1', 0],
    ['s2', 30],
  ]);
  expect(other.sections[1].points).toEqual(expected.sections[0].points);
});

describe('what else a file holds is named', () => {
  const patch = { name: '', surface: { ...awkwardPatch(), poles: Float64Array.from({ length: 24 }, (_, k) => k * k) } };
  const [taper] = taperSet().surfaces;
  const tilted = {
    name: '',
    surface: {
      ...ellipticTaper(),
      poles: ellipticTaper().poles.map((z, k, all) => (k % 3 === 2 ? z + all[k - 2] / 10 : z)),
    },
  };
  const curves = [{ name: 'A', curve: ellipseCurve(1, 2, 3) }];
  test.each([
    ['load/cad-no-surface', [], curves, /holds 1 B-spline curve;/],
    ['load/cad-no-surface', [], [], /holds no surface;/],
    ['load/cad-many-surfaces', [taper, patch], [], /2 B-spline surfaces/],
    ['load/cad-open', [patch], [], /open/],
    ['load/cad-not-level', [tilted], [], /z runs over 4/],
  ])('%s', async (code, surfaces, lines, message) => {
    const set: BsplineSet = { surfaces, curves: lines };
    for (const text of [stepText(set, OPTIONS), igesText(set, OPTIONS)]) {
      const error = await failure(text);
      expect([error.code, error.exitCode]).toEqual([code, 3]);
      expect(error.message).toMatch(message);
      expect(error.remedy).toMatch(/table.*mesh/);
    }
  });

  test('faces, solids and parts that are moved are not taken for the bare surface', async () => {
    const text = stepText(taperSet(), OPTIONS);
    const solid = text.replace('DATA;', "DATA;\n#900=MANIFOLD_SOLID_BREP('',#1);\n#901=ADVANCED_FACE('',(),#1,.T.);");
    const error = await failure(solid);
    expect(error.code).toBe('load/cad-bound');
    expect(error.message).toMatch(/1 B-spline surface, 2 B-spline curves, 1 solid with a trimmed face/);
    const moved = await failure(text.replace('DATA;', "DATA;\n#900=ITEM_DEFINED_TRANSFORMATION('','',#1,#2);"));
    expect(moved.message).toMatch(/moved part/);
    const iges = igesText({ ...taperSet(), curves: [] }, OPTIONS);
    const matrix = await failure(iges.replace(/^( +128 +1 +0 +0 +0 +0) +0/m, '$1       9'));
    expect([matrix.code, matrix.message]).toEqual(['load/cad-bound', expect.stringMatching(/matrix/)]);
  });
});

/** Ruled surface through ellipses of half axes a and b at rising heights. */
function ruled(rows: [a: number, b: number, z: number][]): BsplineSet {
  const curves = rows.map(([a, b, z]) => ellipseCurve(a, b, z));
  const last = rows.length - 1;
  const surface = {
    ...ellipticTaper(),
    knotsV: Float64Array.from([0, ...rows.keys(), last]),
    countV: rows.length,
    poles: Float64Array.from(curves.flatMap(({ poles }) => Array.from(poles))),
    weights: Float64Array.from(curves.flatMap(({ weights }) => Array.from(weights!))),
  };
  return { surfaces: [{ name: '', surface }], curves: [] };
}

test('a kink over the height is followed by sections close together, many kinks are refused', async () => {
  const { sections } = await readSections(
    stepText(
      ruled([
        [20, 4, 0],
        [17, 4, 10],
        [20, 4, 30],
      ]),
      OPTIONS,
    ),
  );
  expect(sections.length).toBeLessThan(120);
  const reach = sections.map(({ points }) => Math.max(...points.filter((_, k) => k % 2 === 0)));
  sections.forEach(({ height }, k) => {
    expect(reach[k]).toBeCloseTo(height < 10 ? 20 - 0.3 * height : 15.5 + 0.15 * height, 10);
  });
  const steps = sections.slice(1).map(({ height }, k) => height - sections[k].height);
  expect(Math.min(...steps)).toBeLessThan(0.01);
  const saw = ruled(Array.from({ length: 121 }, (_, k) => [20 + (k % 2), 4, k]));
  const error = await failure(stepText(saw, OPTIONS));
  expect([error.code, error.exitCode]).toEqual(['load/cad-sharp', 3]);
});

test('a file of a whole blade cut at every kilobyte is refused', async () => {
  const { set } = bladeToBsplines(nominalFromTable(exactSections(evenHeights(2), 60), {}), 'blade');
  for (const [format, text] of [
    [step, stepText(set, OPTIONS)],
    [iges, igesText(set, OPTIONS)],
  ] as const) {
    const bytes = bytesOf(text);
    for (let size = 1024; size < bytes.length; size += 1024) {
      const head = bytes.subarray(0, size);
      const sink = format.parse({ name: 'file', size, head, complete: true, options: {}, warnings: [] });
      sink.push(head);
      expect(() => sink.end()).toThrow(expect.objectContaining({ code: 'load/truncated' }));
    }
    const whole = await readSections(text.trimEnd());
    expect(whole).toEqual(await readSections(text));
    expect(whole.sections.map(({ height }) => height)).toEqual(expect.arrayContaining([0, 120]));
  }
});
