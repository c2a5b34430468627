import { expect, test } from 'vitest';
import { POINT_OUTSIDE_SPAN } from '../../src/model/relation.ts';
import { MAP_DEFAULTS, surfaceMap } from '../../src/relate/surface-map.ts';
import { alongAt, evaluateSurface, PLACE_SIZE } from '../../src/spatial/surface-evaluate.ts';
import { STOCK_CELL_DEFAULTS, stockCells } from '../../src/stock/stock-cells.ts';
import { stockZones } from '../../src/stock/stock-zones.ts';
import { exactTarget } from '../support/exact-nominal.ts';
import { type Field, relationOf } from './synthetic-relation.ts';

const { surface } = exactTarget();
const REACH = { leading: 2.25, trailing: 2.25 };
const { zones, reaches } = stockZones(null, surface, REACH);
/** A field with a hollow as wide as 4 mm along and 8 mm up, and a slope. */
const field: Field = (u, z) =>
  0.6 - 0.1 * (z / 120) + 0.004 * u - 0.55 * Math.exp(-(((u + 22) / 4) ** 2) - ((z - 72) / 8) ** 2);
const hidden = (u: number, z: number) => u > 5 && u < 15 && z > 30 && z < 40;
const relation = relationOf(surface, field, { points: 400_000, noise: 0.01, hidden });
const map = surfaceMap(surface, relation, MAP_DEFAULTS);
const cells = stockCells(surface, relation, map, reaches);
const all = Array.from({ length: cells.count }, (_, k) => k);
const measured = all.filter((k) => Number.isFinite(cells.stock[k]));

test('every measured cell has its support, and all area is in one cell', () => {
  const { points, area } = STOCK_CELL_DEFAULTS;
  for (const k of all) expect(cells.points[k] >= points || cells.area[k] >= area * 0.999, `cell ${k}`).toBe(true);
  expect(cells.area.reduce((a, b) => a + b, 0)).toBeCloseTo(
    map.cells.area.reduce((a, b) => a + b, 0),
    6,
  );
  expect(cells.points.reduce((a, b) => a + b, 0)).toBe(map.counts.reduce((a, b) => a + b, 0));
});

test('at 10 µm noise the field is known below 3 µm rms, and within its own uncertainty', () => {
  let [squares, chi] = [0, 0];
  for (const k of measured) {
    const error = cells.stock[k] - field(cells.u[k], cells.height[k]);
    squares += error ** 2;
    chi += (error / cells.uStock[k]) ** 2;
  }
  expect(Math.sqrt(squares / measured.length)).toBeLessThan(0.003);
  expect(chi / measured.length).toBeLessThan(1.25);
  expect(chi / measured.length).toBeGreaterThan(0.8);
});

test('no cell is off by the bend of the field, and the least one reaches the bottom of the hollow', () => {
  const worst = measured.reduce((most, k) => {
    const error = Math.abs(cells.stock[k] - field(cells.u[k], cells.height[k]));
    return Math.max(most, error / cells.uStock[k]);
  }, 0);
  // The largest of so many normal variables is about 4.
  expect(worst).toBeLessThan(5.5);
  let bottom = Number.POSITIVE_INFINITY;
  for (let u = -24; u < -20; u += 0.02) for (let z = 70; z < 74; z += 0.05) bottom = Math.min(bottom, field(u, z));
  const least = measured.reduce((best, k) => (cells.stock[k] < cells.stock[best] ? k : best));
  expect(Math.abs(cells.stock[least] - bottom)).toBeLessThan(0.004);
});

test('a step of the field is told as it is, not beyond', () => {
  const stepped: Field = (u) => (u > 10 ? 0.5 : 0.1);
  const clean = relationOf(surface, stepped, { points: 200_000 });
  const part = stockCells(surface, clean, surfaceMap(surface, clean, MAP_DEFAULTS), reaches);
  for (let k = 0; k < part.count; k++) {
    if (Number.isNaN(part.stock[k])) continue;
    expect(part.stock[k]).toBeGreaterThan(0.1 - 1e-9);
    expect(part.stock[k]).toBeLessThan(0.5 + 1e-9);
  }
});

test('the nose of an edge is not averaged flat: what is joined across turns by 30° at most', () => {
  const place = new Float64Array(PLACE_SIZE);
  const borders = map.cells.columnBorders;
  const columns = borders.length - 1;
  const directionAt = (u: number) => {
    evaluateSurface(surface, u, 60, place);
    return Math.atan2(place[4], place[3]);
  };
  let joined = 0;
  for (let c = 0; c < columns; ) {
    const from = c;
    while (c < columns && cells.ofMapCell[60 * columns + c] === cells.ofMapCell[60 * columns + from]) c++;
    if (c - from < 2) continue;
    joined++;
    const half = Math.abs(Math.sin((directionAt(borders[c]) - directionAt(borders[from])) / 2));
    expect(half).toBeLessThan(Math.sin((15.01 * Math.PI) / 180));
    expect(alongAt(surface, borders[c], 60) - alongAt(surface, borders[from], 60)).toBeLessThan(1.3);
  }
  expect(joined).toBeGreaterThan(50);
});

test('a stretch without points is not measured, and cells half in it are where half of them is', () => {
  for (const k of all) {
    const inside = cells.u[k] > 6 && cells.u[k] < 14 && cells.height[k] > 31.5 && cells.height[k] < 38.5;
    if (inside) expect(cells.stock[k]).toBeNaN();
    const outside = cells.u[k] < 4 || cells.u[k] > 16 || cells.height[k] < 28 || cells.height[k] > 42;
    if (outside) expect(cells.stock[k]).not.toBeNaN();
  }
});

test('normals are unit, zones the four sides', () => {
  const names = new Set<string>();
  for (const k of all) {
    expect(Math.hypot(...cells.normal.subarray(3 * k, 3 * k + 3))).toBeCloseTo(1, 12);
    names.add(zones[cells.zone[k]].name);
    if (Math.abs(cells.along[k]) < 2) expect(zones[cells.zone[k]].name).toBe('leading edge');
  }
  expect(names.size).toBe(4);
});

test('points off the span of the finished blade enter nowhere', () => {
  const off = relationOf(surface, field, { points: 50_000, noise: 0.01 });
  const low = Array.from(off.height, (z, i) => ({ z, i })).filter(({ z }) => z < 30);
  for (const { i } of low) off.flag[i] = POINT_OUTSIDE_SPAN;
  const part = stockCells(surface, off, surfaceMap(surface, off, MAP_DEFAULTS), reaches);
  expect(part.points.reduce((a, b) => a + b, 0)).toBe(50_000 - low.length);
  for (let k = 0; k < part.count; k++) if (part.height[k] < 27) expect(part.stock[k]).toBeNaN();
});
