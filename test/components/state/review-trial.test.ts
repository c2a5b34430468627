import { describe, expect, it } from 'vitest';
import { nearestCell } from '../../../components/state/nearest-cell.ts';
import { INITIAL_REVIEW, placedValues, reviewDone } from '../../../components/state/review-state.ts';
import { shownResults, spareOfCells, trialField, trialMatrix } from '../../../components/state/review-trial.ts';
import { seededRandom } from '../../../src/math/random.ts';
import { EVEN, exampleBlank, SHIFT, U_STOCK, WANTED } from '../../support/example-blank.ts';

const reply = exampleBlank();
const field = trialField(reply, reply.zones);
const still = placedValues(reply);
const GUARD = 2 * U_STOCK;
/** The map moves with the normals of the drawing, kept in single precision: 2⁻²⁴ of a shift of half a millimetre. */
const SINGLE = 0.5 * 2 ** -23;

describe('trial of a placement', () => {
  it('leaves every number as it is where nothing is moved', () => {
    const { map, stock } = field.results(still, null);
    expect(map!.deviation).toEqual(reply.results.map!.deviation);
    expect(stock!.least.value).toBe(reply.results.stock!.least.value);
  });

  it('finds even stock everywhere when the shift is taken back', () => {
    const back = [-SHIFT[0], -SHIFT[1], -SHIFT[2], 0, 0, 0];
    const { map, sections, stock, answers } = field.results(back, null);
    const values = [...map!.deviation.flat(), ...sections.flatMap((s) => s.plot!.deviation)].filter((d) => d !== null);
    for (const value of values) expect(Math.abs(value - EVEN)).toBeLessThan(SINGLE);
    expect(stock!.least.value).toBeCloseTo(EVEN, 12);
    expect(answers.stock!.text).toMatch(/^Trial: enough stock/);
    expect(map!.deviation.flat().filter((d) => d === null).length).toBe(
      reply.results.map!.deviation.flat().filter((d) => d === null).length,
    );
  });

  it('agrees with the stock of the moved blank at any shift', () => {
    const moved = exampleBlank([0.03, -0.25, 0]);
    const { map } = field.results([0.03, -0.25, 0, 0, 0, 0], null);
    const truth = moved.results.map!.deviation.flat();
    const tried = map!.deviation.flat();
    expect(tried.map((d) => d === null)).toEqual(truth.map((d) => d === null));
    for (let i = 0; i < truth.length; i++)
      if (truth[i] !== null) expect(Math.abs(tried[i]! - truth[i]!)).toBeLessThan(SINGLE);
  });

  it('turns about the pivot: a point at the pivot does not move, the lever counts at the tip', () => {
    const [x, y, height] = [0, 0, 60 + 50];
    const cells = { ...reply.cells, count: 1, point: Float64Array.of(x, y, height), normal: Float64Array.of(0, -1, 0) };
    const one = {
      ...reply,
      cells: {
        ...cells,
        stock: Float64Array.of(0.5),
        height: Float64Array.of(height),
        along: Float64Array.of(0),
        zone: Int16Array.of(0),
        uStock: Float64Array.of(0),
        area: Float64Array.of(1),
      },
    };
    const angle = 0.1;
    const turned = trialField(one, reply.zones).results([0, 0, 0, angle, 0, 0], null);
    expect(turned.stock!.least.value).toBeCloseTo(0.5 + (50 * angle * Math.PI) / 180, 12);
  });

  it('draws a curve whose best value takes the shift of that axis back', () => {
    const [, y] = field.curves([-SHIFT[0], 0, 0, 0, 0, 0], null);
    expect(y.axis).toBe('y');
    expect(Math.abs(y.best + SHIFT[1])).toBeLessThanOrEqual(y.values[1] - y.values[0]);
    expect(Math.max(...y.spare)).toBeGreaterThan(EVEN - WANTED.least - GUARD - (y.values[1] - y.values[0]));
  });

  it('counts the area short of stock against the stock wanted: none, then all that is measured', () => {
    const back = [-SHIFT[0], -SHIFT[1], 0, 0, 0, 0];
    const all = reply.cells.area.reduce((sum, a, i) => sum + (Number.isNaN(reply.cells.stock[i]) ? 0 : a), 0);
    const [none, every] = field.shortArea(back, [EVEN - GUARD - 1e-9, EVEN - GUARD + 1e-9]);
    expect(none).toBe(0);
    expect(every).toBeCloseTo(all, 9);
  });

  it('takes the stock wanted that is tried into limits and answer', () => {
    const review = {
      ...reviewDone(INITIAL_REVIEW, reply, { wanted: null, first: true, seconds: 1 }),
      wanted: { least: 0.25, most: null },
    };
    const shown = shownResults(review, field);
    expect(shown.stock!.zones.map((z) => z.wanted)).toEqual(reply.zones.map(() => ({ least: 0.25, most: null })));
    const short = spareOfCells(
      reply.cells,
      reply.zones.map((z) => ({ ...z, least: 0.25 })),
      2,
    );
    expect(short.shortMm2).toBeGreaterThan(0);
    expect(shown.answers.stock!.text).toContain(`${short.shortMm2.toFixed(0)} mm² short`);
  });

  it('counts the area with more than allowed, and says it', () => {
    const { answers } = field.results(still, { least: 0.05, most: EVEN });
    const { area, stock } = reply.cells;
    const over = area.reduce((sum, a, i) => sum + (stock[i] > EVEN ? a : 0), 0);
    expect(over).toBeGreaterThan(0);
    expect(answers.stock!.text).toContain(`${over.toFixed(0)} mm² more than allowed`);
  });

  it('never calls a place without points enough, and gives the matrix of its values', () => {
    const cells = { ...reply.cells, stock: reply.cells.stock.map(() => Number.NaN) };
    const none = spareOfCells(cells, reply.zones, 2);
    expect(none.cell).toBe(-1);
    expect(none.shortMm2).toBe(0);
    expect(trialMatrix(reply, still)).toEqual(reply.results.alignment!.matrix);
  });
});

describe('nearest cell', () => {
  it('is that of a search over all of them, also outside', () => {
    const uniform = seededRandom(11);
    const count = 700;
    const height = Float64Array.from({ length: count }, () => 120 * uniform());
    const along = Float64Array.from({ length: count }, () => 80 * uniform() - 40);
    const find = nearestCell({ count, height, along });
    for (let k = 0; k < 500; k++) {
      const [h, a] = [160 * uniform() - 20, 120 * uniform() - 60];
      const distance = (i: number): number => (height[i] - h) ** 2 + (along[i] - a) ** 2;
      let best = 0;
      for (let i = 1; i < count; i++) if (distance(i) < distance(best)) best = i;
      expect(distance(find(h, a))).toBe(distance(best));
    }
    expect(nearestCell({ count: 0, height, along })(1, 1)).toBe(-1);
  });
});
