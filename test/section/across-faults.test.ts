import { expect, test } from 'vitest';
import { fitMeasured } from '../../src/fit/fit-measured.ts';
import { nominalOutline } from '../../src/fit/nominal-outline.ts';
import { outlineFoot } from '../../src/fit/outline-foot.ts';
import { findLocalFaults } from '../../src/relate/faults-find.ts';
import { acrossFaults } from '../../src/section/across-faults.ts';
import { carryPoints } from '../../src/section/carry-points.ts';
import { pointsByHeight, sectionPoints } from '../../src/section/slab-points.ts';
import { levelSection } from '../../src/section/surface-section.ts';
import { plantedPoints, sharpTarget } from '../relate/faults-parts.ts';

const NOISE = 0.005;
const { surface } = sharpTarget();
/** A notch on the nose, 0.15 mm deep, 0.4 mm long. */
const notch = (along: number, height: number): number =>
  Math.abs(height - 60) < 0.2 ? -0.15 * Math.sqrt(Math.max(0, 1 - (along / 0.15) ** 2)) : 0;
const scan = { seed: 5, density: 100, noise: NOISE, even: true, from: 57, to: 63, planted: notch };
const { relation } = plantedPoints({ surface } as ReturnType<typeof sharpTarget>, scan);
const faults = findLocalFaults(surface, relation, NOISE);

/** The section at a height: distance (mm) of its outline from a place `deep` inside the nominal nose, and its fit. */
function sectionAt(height: number, deep: number) {
  const on = levelSection(surface, height);
  const { pick } = sectionPoints(on, relation, pointsByHeight(relation));
  const own = acrossFaults(on, relation, pick, faults);
  const carried = carryPoints(on, own.relation, own.pick);
  const found = fitMeasured(surface, nominalOutline(on), carried, NOISE);
  if (!found) throw new Error('The section has points.');
  const { fitted } = found;
  const floor = new Float64Array(2);
  on.carry(0, -deep, floor);
  const weights = fitted.weights.filter(
    (_, i) => Math.hypot(fitted.points[2 * i] - floor[0], fitted.points[2 * i + 1] - floor[1]) < 0.05,
  );
  return { away: Math.abs(outlineFoot(fitted.outline, floor[0], floor[1]).distance), weights };
}

test('the section across a notch shows it, and its points keep weight', () => {
  expect(faults.length).toBe(1);
  const { away, weights } = sectionAt(60, 0.15);
  expect(weights.length).toBeGreaterThanOrEqual(3);
  expect(Math.min(...weights)).toBeGreaterThan(0);
  expect(away).toBeLessThan(0.03);
});

test('a section beside it is clean', () => {
  expect(sectionAt(60.8, 0).away).toBeLessThan(0.01);
});
