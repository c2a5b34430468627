import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { loftSurface } from '../../src/fit/loft-surface.ts';
import { nominalFromTable } from '../../src/fit/nominal-blade.ts';
import { adaptSchema } from '../../src/model/adapt-results.ts';
import type { Plan } from '../../src/model/plan.ts';
import { MAP_DEFAULTS, surfaceMap } from '../../src/relate/surface-map.ts';
import { evaluateSurface, PLACE_SIZE, placeNormal } from '../../src/spatial/surface-evaluate.ts';
import { type AdaptedBlade, adaptBlade } from '../../src/stock/adapt-blade.ts';
import { bladeMesh } from '../../src/stock/adapt-surface.ts';
import { adaptWhole } from '../../src/stock/adapt-whole.ts';
import { stockCells } from '../../src/stock/stock-cells.ts';
import { stockRecord } from '../../src/stock/stock-record.ts';
import { stockZones } from '../../src/stock/stock-zones.ts';
import { type AdaptTask, adaptFigures } from '../support/adapt-figures.ts';
import { EDGE_ZONE, nearNetPlan } from '../support/adapted-blank.ts';
import { exactLoft } from '../support/exact-nominal.ts';
import { type Field, relationOf } from './synthetic-relation.ts';

describe('seeded near-net blanks, 100,000 points, 5 µm noise', () => {
  const task = (seed: number, form: AdaptTask['form'], lacks: AdaptTask['lacks'] = 'nothing') => ({
    seed,
    form,
    lacks,
    points: 100_000,
  });

  it.each([task(1, 'nominal'), task(2, 'ellipse')])(
    'keeps chord, thickness and flanks of blank $seed, form $form',
    async (at) => {
      const found = await adaptFigures(at);
      expect(found.verdict).toBe('pass');
      expect(found.chord).toBeLessThan(0.001);
      expect(found.thickness).toBeLessThan(0.001);
      expect(found.breakDeg).toBeLessThan(0.1);
      expect(found.notMonotone).toBe(0);
      expect(found.span).toBeLessThan(0.002);
      expect(found.flank).toBeLessThan(0.001);
    },
  );

  it('refuses a leading edge without metal, and says where', async () => {
    const found = await adaptFigures(task(3, 'nominal', 'edge'));
    expect(found.verdict).toBe('fail');
    const height = Number(/height ([\d.]+) mm/.exec(found.refusedReason ?? '')?.[1]);
    expect(height).toBeGreaterThan(50);
    expect(height).toBeLessThan(90);
  });
});

const loft = exactLoft(9, 300);
const surface = loftSurface(loft);
const place = new Float64Array(PLACE_SIZE);
const normal = new Float64Array(3);

/** Direction from the leading to the trailing edge, and the set-backs of a place from both. */
function chordwise(u: number, z: number) {
  const at = (where: number): [number, number] => {
    evaluateSurface(surface, where, z, place);
    return [place[0], place[1]];
  };
  const [lead, trail] = [at(0), at(surface.columns[0])];
  const length = Math.hypot(trail[0] - lead[0], trail[1] - lead[1]);
  const [dx, dy] = [(trail[0] - lead[0]) / length, (trail[1] - lead[1]) / length];
  const own = at(u);
  placeNormal(surface, place, normal);
  const along = (own[0] - lead[0]) * dx + (own[1] - lead[1]) * dy;
  return { leading: along, trailing: length - along, lean: normal[0] * dx + normal[1] * dy };
}

/** Metal that stands on both edges and is gone 2.4 mm behind the noses, the flanks given. */
function stockField(flank: Field, edge: (lean: number) => number): Field {
  return (u, z) => {
    const { leading, trailing, lean } = chordwise(u, z);
    const part = Math.min(1, Math.max(0, (Math.min(leading, trailing) - 1.4) / 1));
    const share = 1 - part * part * part * (10 - 15 * part + 6 * part * part);
    return (1 - share) * flank(u, z) + share * edge(lean);
  };
}

function inputOf(field: Field, plan: Plan) {
  const relation = relationOf(surface, field, { points: 150_000, noise: 0.002 });
  const map = surfaceMap(surface, relation, MAP_DEFAULTS);
  const zones = stockZones(plan, surface, { leading: EDGE_ZONE, trailing: EDGE_ZONE });
  const input = { surface, map, cells: stockCells(surface, relation, map, zones.reaches), zones, plan };
  return { ...input, blade: { sections: loft }, verdicts: stockRecord(input).zones };
}

const checkOf = ({ results }: AdaptedBlade, id: string) => results.checks.find((check) => check.id === id)!;
const flat: Field = (u) => (u < 0 ? 0.02 : -0.01);

describe('flanks off to one side', () => {
  const input = inputOf(
    stockField(flat, () => 0.6),
    nearNetPlan(),
  );
  const adapted = adaptBlade(input);

  it('moves the edges onto the middle of the flanks, the chord kept', () => {
    expect(adapted.results.verdict).toBe('pass');
    for (const { chord, edges } of adapted.results.sections) {
      for (const { noseOffset } of edges) expect(Math.abs(noseOffset.value!)).toBeLessThan(0.002);
      expect(chord.status).toBe('ok');
    }
    const { most, least } = adapted.results.departs!;
    expect(most.value).toBeCloseTo(0.02, 2);
    expect(least.value).toBeGreaterThan(-0.03);
  });

  it('gives results of the published form, a table that gives the blade back, and triangles', () => {
    expect(v.parse(adaptSchema, adapted.results)).toEqual(adapted.results);
    const again = nominalFromTable(adapted.table!, {});
    const own = adapted.blade!.surface;
    const other = new Float64Array(PLACE_SIZE);
    for (let z = 5; z < 120; z += 17)
      for (let share = 0.05; share < 1; share += 0.09) {
        const u = (grid: Float64Array) => grid[0] + share * (grid[grid.length - 1] - grid[0]);
        evaluateSurface(own, u(own.columns), z, place);
        evaluateSurface(again.surface, u(again.surface.columns), z, other);
        expect(Math.hypot(place[0] - other[0], place[1] - other[1])).toBeLessThan(1e-5);
      }
    const { positions, triangles } = bladeMesh(adapted.blade!);
    expect(triangles.reduce((most, vertex) => Math.max(most, vertex))).toBe(positions.length / 3 - 1);
  });

  it('refuses a blend steeper than allowed', () => {
    const steep = adaptBlade({ ...input, plan: nearNetPlan({ slope: 0.002 }) });
    expect(steep.blade).toBeNull();
    expect(checkOf(steep, 'blend')).toMatchObject({ verdict: 'fail', limit: 0.002 });
    // A quintic fade of half the difference of both flanks, 0.005 mm each after the move, is 15/8 of it over its length.
    expect(checkOf(steep, 'blend').value).toBeGreaterThan((1.875 * 0.005) / 4 - 5e-4);
  });

  it('refuses a blend that ends beyond the edge zone', () => {
    const long = adaptBlade({ ...input, plan: nearNetPlan({ blend: 4.5 }) });
    expect(checkOf(long, 'setback').value).toBeCloseTo(0.5, 9);
    expect(long.results.verdict).toBe('fail');
  });

  it('cuts to the nominal what the plan has cut', () => {
    const cut = adaptBlade({ ...input, plan: nearNetPlan({ flanks: 'nominal' }) });
    expect(cut.results.flanks.every(({ kept }) => !kept)).toBe(true);
    expect(checkOf(cut, 'stock').verdict).toBe('fail');
    expect(cut.results.departs!.most.value).toBeLessThan(1e-6);
    expect(cut.results.departs!.least.value).toBeGreaterThan(-1e-6);
  });

  it('makes ellipses of the ratio asked for, as thick as on the nominal flanks', () => {
    const plan = nearNetPlan({ form: 'ellipse', ratio: 3, setback: [0.02, 3], blend: 2 });
    // Three to one is slimmer than the nominal's circle by more than the profile allows.
    const slim = adaptBlade({ ...input, plan });
    expect(checkOf(slim, 'profile')).toMatchObject({ verdict: 'fail', limit: -0.08 });
    const wide = plan.zones!.map((zone) => ({ ...zone, plus: 0.15, minus: 0.15 }));
    const long = adaptBlade({ ...input, plan: { ...plan, zones: wide } });
    expect(long.results.verdict).toBe('pass');
    for (const { edges } of long.results.sections)
      for (const { ratio, setbacks, thicknessAt } of edges) {
        expect(Math.abs(ratio.value! - 3)).toBeLessThan(0.02);
        expect(Math.max(setbacks!.suction, setbacks!.pressure)).toBeLessThan(3);
        for (const { value, nominal } of thicknessAt) expect(Math.abs(value! - nominal!)).toBeLessThan(0.005);
      }
  });

  it('makes curvature continuous where there is room, and keeps the thickness it is told', () => {
    const plan = { ...nearNetPlan({ form: 'ellipse', ratio: 1, continuity: 'G2' }), setbacks: [] };
    const bent = adaptBlade({ ...input, plan });
    expect(bent.results.verdict).toBe('pass');
    for (const { edges } of bent.results.sections)
      for (const { curvatureMonotone, tangentBreakDeg } of edges) {
        expect(curvatureMonotone).toBe(true);
        expect(tangentBreakDeg).toBeLessThan(0.1);
      }
  });
});

describe('edges that stand too far forward', () => {
  const lean = 0.38;
  const input = inputOf(
    stockField(
      () => 0,
      (n) => 0.4 - lean * n,
    ),
    nearNetPlan(),
  );

  it('are refused at the datum, and made where the opposite edge has metal, the chord kept', () => {
    const datum = adaptBlade(input);
    expect(datum.results.verdict).toBe('fail');
    expect(checkOf(datum, 'stock').where).toMatch(/height/);
    expect(datum.results.sections.some(({ edges }) => /lacks/.test(edges[1].reason ?? ''))).toBe(true);
    const opposite = adaptBlade({ ...input, plan: nearNetPlan({ noseFrom: 'opposite-edge' }) });
    expect(opposite.results.refusedReason).toBeUndefined();
    expect(checkOf(opposite, 'chord').value).toBeLessThan(1e-4);
    expect(checkOf(opposite, 'stock').value).toBeGreaterThan(-1e-6);
    // 0.02 mm at the trailing nose, more beside it, 0.1 mm wanted on cells as wide as 30° of the edge: both noses move by
    // what is missing towards the leading edge.
    expect(opposite.results.departs!.most.value).toBeGreaterThan(0.02);
    expect(opposite.results.departs!.most.value).toBeLessThan(0.08);
    expect(opposite.results.departs!.most.place!.side).toBe('leading-edge');
  });
});

describe('the whole blade by an offset field', () => {
  it('moves in by a uniform shortage', () => {
    const whole = adaptWhole(inputOf(() => 0.06, nearNetPlan()));
    expect(whole.results.verdict).toBe('pass');
    expect(v.parse(adaptSchema, whole.results)).toEqual(whole.results);
    const { most, least } = whole.results.departs!;
    for (const { value } of [most, least]) expect(Math.abs(value! + 0.04)).toBeLessThan(0.003);
    for (const { chord, height } of whole.results.sections) expect(chord.value).toBeCloseTo(45 - height / 8 - 0.08, 2);
  });

  it('says what no offset can do', () => {
    const whole = adaptWhole(inputOf(() => -0.02, nearNetPlan()));
    expect(whole.blade).toBeNull();
    expect(whole.results.refusedReason).toMatch(/short by 0\.04\d mm/);
  });
});
