import * as v from 'valibot';
import { beforeAll, describe, expect, test } from 'vitest';
import { nominalBlade } from '../../samples/blade.ts';
import { makeScan } from '../../samples/scan.ts';
import { evenHeights, exactSections, makeMesh } from '../../samples/tessellate.ts';
import { sectionTableText } from '../../src/cli/sections-text.ts';
import { nominalFromTable } from '../../src/fit/nominal-blade.ts';
import { nominalOutline } from '../../src/fit/nominal-outline.ts';
import { sampleOutline } from '../../src/fit/outline-evaluate.ts';
import { outlineFoot } from '../../src/fit/outline-foot.ts';
import { seededRandom } from '../../src/math/random.ts';
import { identityPose } from '../../src/math/rigid.ts';
import { compareContexts, type SectionSource } from '../../src/measure/compare-section.ts';
import { measureShape } from '../../src/measure-shape.ts';
import type { Plan } from '../../src/model/plan.ts';
import { type Results, resultsSchema, type SectionResult } from '../../src/model/results.ts';
import type { Shape } from '../../src/model/shape.ts';
import type { NominalSurface } from '../../src/model/surface.ts';
import { inspect } from '../../src/pipeline.ts';
import { relatePoints } from '../../src/relate/relate-points.ts';
import { trendSeries } from '../../src/report/svg/trend-series.ts';
import { cutsOfPlan } from '../../src/section/cut-of-plan.ts';
import { cutSection } from '../../src/section/cut-section.ts';
import { pointsByHeight } from '../../src/section/slab-points.ts';
import { makeNominalTarget } from '../../src/spatial/nominal-target.ts';
import { evaluateSurface, PLACE_SIZE, placeNormal } from '../../src/spatial/surface-evaluate.ts';
import { loaded } from '../support/loaded.ts';
import { ruledBlade } from '../support/ruled-blade.ts';
import { ellipseSection } from '../support/sections.ts';

const blade = nominalBlade({ lean: [4, 10] });
const table = exactSections(evenHeights(21), 400, blade);
const { surface } = nominalFromTable(table, {});
const PLAN: Plan = {
  schema: 'camberwright/plan',
  schemaVersion: 1,
  engine: { point: [0, 0, -300], direction: [1, 0, 0] },
  sections: {
    heights: [30, 60, 90],
    cuts: [
      { kind: 'plane', id: 'PLANE', point: [0, 0, 40], normal: [0.15, -0.25, 1] },
      { kind: 'cylinder', id: 'ROUND', radius: 370 },
      { kind: 'cone', id: 'CONE', radius: 350, at: 0, halfAngleDeg: 12 },
    ],
  },
  characteristics: [{ of: 'chordFar', sections: ['ROUND', 'PLANE'], plus: 0.1, minus: 0.1 }],
};
const plan = { name: 'p.json', sha256: '0'.repeat(64), plan: PLAN };
const cuts = cutsOfPlan(PLAN, plan.name);
/** The sections' own values of the exact nominal surface. */
const sectionOf = (id: string) => cutSection(surface, cuts.find((cut) => cut.id === id)!);

/** Points at random on a surface, all moved outward along its normal. */
function cloudOf(on: NominalSurface, offset: number, count: number): Float64Array {
  const random = seededRandom(3);
  const { columns } = on;
  const positions = new Float64Array(3 * count);
  const place = new Float64Array(PLACE_SIZE);
  const normal = new Float64Array(3);
  for (let i = 0; i < count; i++) {
    evaluateSurface(on, columns[0] + (columns[columns.length - 1] - columns[0]) * random(), 120 * random(), place);
    placeNormal(on, place, normal);
    for (let k = 0; k < 3; k++) positions[3 * i + k] = place[k] + offset * normal[k];
  }
  return positions;
}

/** A leaned, tapered blade without jumps of curvature, which random points would not resolve to 1e-6. */
const smooth = ruledBlade((height) => {
  const ellipse = ellipseSection(20 - 0.06 * height, 3);
  const stretches = ellipse.stretches.map((stretch) => (f: number): [number, number] => {
    const [x, y] = stretch(f);
    return [x + 0.05 * height, y + 0.1 * height];
  });
  return { ...ellipse, stretches };
}, 800);

describe.each([0, 0.04])('a noise-free cloud %d mm outside a leaned blade', (offset) => {
  let source: SectionSource;

  beforeAll(async () => {
    const target = makeNominalTarget(smooth);
    const positions = cloudOf(smooth, offset, 60_000);
    const relation = await relatePoints(target, positions, identityPose(), { gate: 1 }, {});
    const sorted = pointsByHeight(relation);
    // The offset is the same everywhere, so that a thick slab adds points and no error.
    const slab = { halfThickness: 12, points: 2500, mostHalfThickness: 12 };
    source = { surface: smooth, relation, sorted, noise: 0, pivot: [0, 0], slab, measure: {} };
  }, 60_000);

  test.each(cuts)('has the outline of the surface it lies on in the section $id', (cut) => {
    const on = cutSection(smooth, cut);
    const found = compareContexts(source, { id: cut.id, height: on.height, exact: null, on });
    expect(found.coverage).toBe(1);
    const out = new Float64Array(2);
    for (const u of smooth.columns) {
      on.carry(u, offset, out);
      expect(Math.abs(outlineFoot(found.measured!.section.outline, out[0], out[1]).distance)).toBeLessThan(1e-6);
    }
    found.carried.u.forEach((u, k) => {
      on.carry(u, offset, out);
      expect(out[0]).toBeCloseTo(found.carried.points[2 * k], 10);
      expect(out[1]).toBeCloseTo(found.carried.points[2 * k + 1], 10);
    });
  });
});

describe('inspecting with cylinders, cones and planes', () => {
  let results: Results;

  beforeAll(async () => {
    const scan = makeScan({ blade, points: 80_000, noise: 0.003, seed: 5 });
    const pose = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1];
    ({ results } = await inspect({ nominal: loaded(table), measured: [loaded(scan.cloud)], plan, pose }, {}));
  }, 60_000);

  const section = (id: string): SectionResult => results.sections.find((each) => each.id === id)!;

  test('gives them in their place along the span, with their kind', () => {
    expect(results.sections.map((each) => each.id)).toEqual(['S06', 'PLANE', 'CONE', 'S11', 'ROUND', 'S16']);
    expect(section('ROUND').cut).toEqual({
      kind: 'cylinder',
      radius: 370,
      text: 'Cylinder of radius 370 mm about the engine axis',
    });
    expect(section('S11').cut).toBeUndefined();
    expect(() => v.parse(resultsSchema, JSON.parse(JSON.stringify(results)))).not.toThrow();
  });

  test('measures the same as the nominal of the same kind', () => {
    for (const id of ['PLANE', 'ROUND', 'CONE']) {
      const { nominal, measured, coverage } = section(id);
      expect(coverage, id).toBeGreaterThan(0.99);
      for (const of of ['chordFar', 'thicknessMax', 'perimeter'] as const)
        expect(Math.abs(measured![of].value! - nominal![of].value!), `${id} ${of}`).toBeLessThan(0.01);
      expect(Math.abs(section(id).twistFitDeg!.value!), id).toBeLessThan(0.01);
    }
  });

  test('numbers their characteristics by section id, and keeps them out of the trends', () => {
    expect(results.characteristics!.map((row) => row.id)).toEqual(['chordFar@PLANE', 'chordFar@ROUND']);
    expect(results.characteristics!.map((row) => row.verdict)).toEqual(['pass', 'pass']);
    expect(results.trends!.untwistDeg.parameters!.span).toBe(60);
    expect(trendSeries(results)).toEqual([]);
  });
});

test('a cylinder differs from the plane at its height as the blade does along the span', () => {
  const [round, level] = [
    sectionOf('ROUND'),
    cutSection(
      surface,
      cutsOfPlan(
        { ...PLAN, sections: { cuts: [{ kind: 'plane', id: 'L', point: [0, 0, 70], normal: [0, 0, 1] }] } },
        '',
      )[0],
    ),
  ];
  expect(round.height).toBeCloseTo(70, 12);
  expect(round.from).toBeLessThan(70 - 0.1);
  const [a, b] = [round, level].map((on) => nominalOutline(on).outline);
  const points = sampleOutline(
    a,
    Float64Array.from({ length: 50 }, (_, i) => a.knots[0] + (a.period * i) / 50),
  );
  const off = Array.from({ length: 50 }, (_, i) => Math.abs(outlineFoot(b, points[2 * i], points[2 * i + 1]).distance));
  expect(Math.max(...off)).toBeGreaterThan(1e-3);
});

describe('own sections without a nominal', () => {
  async function own(shape: Shape): Promise<SectionResult[]> {
    return (await measureShape({ shape: loaded(shape), plan }, {})).results.sections;
  }

  /** Largest differences from the exact surface's own values over the sections by cuts (mm). */
  async function errors(shape: Shape) {
    const exact = (await own(table)).filter((each) => each.cut);
    const found = (await own(shape)).filter((each) => each.cut);
    expect(found.map((each) => each.id)).toEqual(['PLANE', 'CONE', 'ROUND']);
    const most = (of: 'chordFar' | 'thicknessMax' | 'perimeter' | 'area') =>
      Math.max(...found.map((each, i) => Math.abs(each.measured![of].value! - exact[i].measured![of].value!)));
    const perimeter = exact[0].measured!.perimeter.value!;
    return {
      chord: most('chordFar'),
      thickness: most('thicknessMax'),
      perimeter: most('perimeter'),
      offset: most('area') / perimeter,
    };
  }

  test('say in the printed table what they are', async () => {
    const { results } = await measureShape({ shape: loaded(table), plan }, {});
    expect(sectionTableText(results).split('\n').slice(-3)).toEqual([
      'PLANE: Plane through (0, 0, 40) mm, normal (0.15, −0.25, 1); developed',
      'CONE: Cone of radius 350 mm at 0 mm along the engine axis, half angle 12°; developed',
      'ROUND: Cylinder of radius 370 mm about the engine axis; developed',
    ]);
  });

  test('of a mesh', async () => {
    const found = await errors(makeMesh({ blade, rows: 121, columns: 800 }));
    for (const [of, error] of Object.entries(found)) expect(error, of).toBeLessThan(1e-4);
  }, 30_000);

  test('of a cloud', async () => {
    const found = await errors(makeScan({ blade, points: 100_000, noise: 0.005, seed: 3 }).cloud);
    expect(found.chord).toBeLessThan(0.006);
    expect(found.thickness).toBeLessThan(0.003);
    expect(found.perimeter).toBeLessThan(0.02);
    expect(found.offset).toBeLessThan(0.001);
  }, 60_000);
});
