import { describe, expect, it } from 'vitest';
import { limitsFromZones } from '../../src/judge/map-places.ts';
import type { StockCells } from '../../src/model/stock-cells.ts';
import type { NominalSurface } from '../../src/model/surface.ts';
import { alongAt } from '../../src/spatial/surface-evaluate.ts';
import { OFFSET_FIELD_DEFAULTS, offsetField } from '../../src/stock/offset-field.ts';
import { fieldAt } from '../../src/stock/offset-field-spline.ts';
import { exactTarget } from '../support/exact-nominal.ts';

const { surface } = exactTarget(7, 160);
const WANTED = 0.1;
const BAND = { plus: 0.08, minus: 0.12 };
const { margin } = OFFSET_FIELD_DEFAULTS;

/** Even cells of the blade with a stock of any form (mm). */
function cellsOf(on: NominalSurface, stockAt: (u: number, height: number) => number): StockCells {
  const columns = 80;
  const rows = 50;
  const count = rows * columns;
  const [low, high] = [on.columns[0], on.columns[on.columns.length - 1]];
  const cells: StockCells = {
    count,
    u: Float64Array.from({ length: count }, (_, k) => low + ((high - low) * ((k % columns) + 0.5)) / columns),
    along: new Float64Array(count),
    height: Float64Array.from({ length: count }, (_, k) => (120 * (Math.floor(k / columns) + 0.5)) / rows),
    point: new Float64Array(3 * count),
    normal: new Float64Array(3 * count),
    stock: new Float64Array(count),
    uStock: new Float64Array(count).fill(0.001),
    area: new Float64Array(count).fill(1),
    points: new Uint32Array(count).fill(100),
    zone: new Int16Array(count),
  };
  for (let k = 0; k < count; k++) {
    cells.along[k] = alongAt(on, cells.u[k], cells.height[k]);
    cells.stock[k] = stockAt(cells.u[k], cells.height[k]);
  }
  return cells;
}

function fieldFor(stockAt: (u: number, height: number) => number) {
  const cells = cellsOf(surface, stockAt);
  const reach = { side: 'all' as const, from: null, to: null, leading: 2, trailing: 2 };
  const answer = offsetField({
    surface,
    cells,
    zones: [{ name: 'blade', least: WANTED, most: null, weight: 1 }],
    limits: limitsFromZones([{ reach, lower: -BAND.minus, upper: BAND.plus }]),
    factor: 2,
    stated: 0,
  });
  return { cells, answer };
}

const ASKED = WANTED + 2 * 0.001;

describe('offset field', () => {
  it('leaves the nominal where it is when there is stock enough', () => {
    const { answer } = fieldFor(() => 0.3);
    expect(Math.max(...answer.field!.coefficients.map(Math.abs))).toBe(0);
    expect(answer.short).toBe(0);
  });

  it('moves the whole blade in by a uniform shortage', () => {
    const { cells, answer } = fieldFor(() => 0.06);
    for (let k = 0; k < cells.count; k += 37)
      expect(fieldAt(answer.field!, cells.u[k], cells.height[k])).toBeCloseTo(0.06 - ASKED, 5);
  });

  it('says where and by how much the band is too narrow', () => {
    const short = (u: number, height: number) => (Math.abs(u - 20) < 0.6 && Math.abs(height - 61.2) < 1 ? -0.05 : 0.3);
    const { cells, answer } = fieldFor(short);
    expect(answer.field).toBeNull();
    expect(answer.short).toBeCloseTo(ASKED + 0.05 - (BAND.minus - margin), 9);
    expect(Math.abs(cells.u[answer.cell] - 20)).toBeLessThan(0.6);
    expect(Math.abs(cells.height[answer.cell] - 61.2)).toBeLessThan(1);
  });

  it('follows a hollow smoothly: every limit kept, held at its bottom only, no change far from it', () => {
    const depth = 0.08;
    const hollow = (u: number, height: number) =>
      ASKED + 0.02 - depth * Math.exp(-(((u + 20) / 8) ** 2) - ((height - 60) / 12) ** 2);
    const { cells, answer } = fieldFor(hollow);
    let least = 0;
    let farMost = 0;
    let held = 0;
    for (let k = 0; k < cells.count; k++) {
      const offset = fieldAt(answer.field!, cells.u[k], cells.height[k]);
      expect(offset).toBeLessThanOrEqual(cells.stock[k] - ASKED + 1e-6);
      expect(offset).toBeGreaterThanOrEqual(-BAND.minus + margin - 1e-6);
      least = Math.min(least, offset);
      if (Math.hypot(cells.u[k] - 25, cells.height[k] - 60) < 15) farMost = Math.max(farMost, Math.abs(offset));
      if (answer.pull[k] > 1e-7) {
        expect(offset).toBeGreaterThan(cells.stock[k] - ASKED - 1e-5);
        expect(answer.byStock[k]).toBe(1);
        held++;
      }
    }
    expect(least).toBeGreaterThan(-(depth - 0.02) - 2e-3);
    expect(least).toBeLessThan(-(depth - 0.02) + 2e-3);
    expect(held).toBeGreaterThan(0);
    expect(farMost).toBeLessThan(0.01);
  });

  it('is the least of its energy: no small change within the limits lowers it', () => {
    const { answer } = fieldFor((u, height) => ASKED - 0.03 * Math.cos(u / 15) * Math.cos(height / 40));
    const energyAt = (scale: number, shift: number) => {
      const { field } = answer;
      let sum = 0;
      const h = 0.5;
      const f = (u: number, z: number) => scale * fieldAt(field!, u, z) - shift;
      for (let u = field!.u.from + 1; u < field!.u.from + field!.u.step * field!.u.spans - 1; u += 1)
        for (let z = 1; z < 119; z += 1) {
          const uu = (f(u + h, z) - 2 * f(u, z) + f(u - h, z)) / h ** 2;
          const zz = (f(u, z + h) - 2 * f(u, z) + f(u, z - h)) / h ** 2;
          const uz = (f(u + h, z + h) - f(u + h, z - h) - f(u - h, z + h) + f(u - h, z - h)) / (4 * h * h);
          sum += uu ** 2 + 2 * uz ** 2 + zz ** 2 + f(u, z) ** 2 / OFFSET_FIELD_DEFAULTS.reach ** 4;
        }
      return sum;
    };
    const own = energyAt(1, 0);
    for (const [scale, shift] of [
      [1, 0.001],
      [1.02, 0],
      [0.98, 0.001],
    ])
      expect(energyAt(scale, shift)).toBeGreaterThan(own);
  });
});
