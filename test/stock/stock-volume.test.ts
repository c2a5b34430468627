import { expect, test } from 'vitest';
import type { NominalSurface } from '../../src/model/surface.ts';
import { surfaceCells } from '../../src/relate/surface-cells.ts';
import { cellIntegrals, stockVolume } from '../../src/stock/stock-volume.ts';
import { ruledBlade } from '../support/ruled-blade.ts';
import { circleSection, plateSection } from '../support/sections.ts';

const SPAN = 120;

/** Volume, plain area and cells of even stock over the whole surface or where `holds` says so. */
function evenStock(surface: NominalSurface, stock: number, holds: (along: number) => boolean = () => true) {
  const cells = surfaceCells(surface, 1, 0.05);
  const integrals = cellIntegrals(surface, cells);
  const field = new Float64Array(cells.area.length).fill(stock);
  const chosen = Array.from(field.keys()).filter((m) => holds(cells.along[m]));
  const area = chosen.reduce((sum, m) => sum + integrals.area[m], 0);
  const u = new Float64Array(field.length).fill(0.001);
  return { volume: stockVolume(integrals, field, u, chosen), area, count: chosen.length, integrals, field, u };
}

test('a nose of R 0.25 with 0.5 mm on it holds 0.785398 mm³ a mm of span, twice the plain area times stock', () => {
  const radius = 0.25;
  const surface = ruledBlade(() => plateSection(20, radius, radius), 1600);
  const { volume, area } = evenStock(surface, 0.5, (along) => Math.abs(along) < 4);
  const flats = area / SPAN - Math.PI * radius;
  const nose = volume.value / SPAN - 0.5 * flats;
  expect(nose / (Math.PI / 4)).toBeGreaterThan(0.999);
  expect(nose / (Math.PI / 4)).toBeLessThan(1.001);
  expect(0.5 * (area / SPAN - flats)).toBeCloseTo(0.392699, 6);
});

test('a plate and a rod with even stock: perimeter × stock + π stock², times the span', () => {
  const plate = evenStock(
    ruledBlade(() => plateSection(40, 1, 1), 800),
    0.6,
  ).volume;
  expect(plate.value / (SPAN * (0.6 * (2 * 38 + 2 * Math.PI) + Math.PI * 0.36))).toBeCloseTo(1, 4);
  const rod = evenStock(
    ruledBlade(() => circleSection(6), 600),
    0.6,
  ).volume;
  expect(rod.value / (SPAN * Math.PI * (6.6 ** 2 - 36))).toBeCloseTo(1, 5);
  expect(rod.rate / (SPAN * 2 * Math.PI * 6.6)).toBeCloseTo(1, 5);
});

test('a barrel of revolution: Gaussian curvature counts', () => {
  // Between parallel surfaces of a sphere of radius 80 cut by cones from its centre: solid angle × (R + a)³ / 3.
  const radius = 80;
  const at = (z: number) => Math.sqrt(radius * radius - (z - 60) ** 2);
  const { volume } = evenStock(
    ruledBlade((z) => circleSection(at(z)), 400),
    5,
  );
  const solid = 2 * Math.PI * (120 / radius);
  // The span is interpolated between sections 10 mm apart, free at its ends: the sphere's ends are not exact.
  expect(volume.value / ((solid * ((radius + 5) ** 3 - radius ** 3)) / 3)).toBeCloseTo(1, 2.7);
});

test('a cone: its mean curvature integrates to π a mm of height, whatever its radius', () => {
  const { volume, area } = evenStock(
    ruledBlade((z) => circleSection(12 - 0.05 * z), 600),
    0.4,
  );
  expect((volume.value - 0.4 * area) / (Math.PI * 0.16 * SPAN)).toBeCloseTo(1, 5);
  expect(area / (Math.PI * (12 + 6) * Math.hypot(SPAN, 6))).toBeCloseTo(1, 6);
});

test('where there is no material nothing is removed, and what is not measured adds nothing', () => {
  const { integrals, field, u, count } = evenStock(
    ruledBlade(() => circleSection(6), 200),
    0.5,
  );
  const chosen = Array.from({ length: count }, (_, m) => m);
  const half = count >> 1;
  const part = stockVolume(integrals, field.slice(0, half), u, chosen.slice(0, half)).value;
  const missing = field.map((a, m) => (m < half ? a : m % 2 ? -0.3 : Number.NaN));
  expect(stockVolume(integrals, missing, u, chosen).value).toBeCloseTo(part, 9);
});
