import { describe, expect, test } from 'vitest';
import { nominalBlade } from '../../samples/blade.ts';
import { ROOT_BLOCK } from '../../samples/root-block.ts';
import { makeScan } from '../../samples/scan.ts';
import { evenHeights, exactSections, makeMesh } from '../../samples/tessellate.ts';
import { type NominalBlade, nominalFromTable } from '../../src/fit/nominal-blade.ts';
import { nominalFromMesh } from '../../src/fit/nominal-from-mesh.ts';
import { nominalOutline, parameterAtU } from '../../src/fit/nominal-outline.ts';
import { evaluateOutline } from '../../src/fit/outline-evaluate.ts';
import { seededRandom } from '../../src/math/random.ts';
import type { Mesh } from '../../src/model/shape.ts';
import { levelSection } from '../../src/section/surface-section.ts';
import { emptyFeet, nominalFeet } from '../../src/spatial/nominal-feet.ts';
import { makeNominalTarget } from '../../src/spatial/nominal-target.ts';
import { evaluateSurface, PLACE_SIZE } from '../../src/spatial/surface-evaluate.ts';

/** Distances of exact points of the closed-form blade from a nominal: most and rms (mm). */
function error(blade: NominalBlade, law = nominalBlade(), from = 0.5, to = 119.5) {
  const target = makeNominalTarget(blade.surface);
  const { positions } = makeScan({ blade: law, points: 8000, seed: 11, from, to }).cloud;
  const feet = emptyFeet(positions.length / 3);
  nominalFeet(target, positions, null, 0, positions.length / 3, feet);
  let most = 0;
  let sum = 0;
  let used = 0;
  for (let i = 0; i < feet.u.length; i++) {
    if (feet.border[i] !== 0) continue;
    most = Math.max(most, Math.abs(feet.deviation[i]));
    sum += feet.deviation[i] ** 2;
    used++;
  }
  return { most, rms: Math.sqrt(sum / used), used };
}

/** The closed-form mesh with its vertices slid along the surface, so that no row of equal height is left. */
function scatteredMesh(seed: number): Mesh {
  const mesh = makeMesh({ rows: 181, columns: 400, closed: false });
  const target = makeNominalTarget(nominalFromTable(exactSections(evenHeights(41), 800), {}).surface);
  const random = seededRandom(seed);
  const count = mesh.positions.length / 3;
  const feet = emptyFeet(count);
  nominalFeet(target, mesh.positions, null, 0, count, feet);
  const place = new Float64Array(PLACE_SIZE);
  for (let i = 0; i < count; i++) {
    const height =
      feet.height[i] < 0.1 || feet.height[i] > 119.9 ? feet.height[i] : feet.height[i] + 0.4 * (random() - 0.5);
    evaluateSurface(target.surface, feet.u[i], height, place);
    mesh.positions.set(place.subarray(0, 3), 3 * i);
  }
  return mesh;
}

describe('nominal blade', () => {
  test('of a section table lies on the closed form', () => {
    const { most, rms, used } = error(nominalFromTable(exactSections(evenHeights(21), 400), {}));
    expect(used).toBeGreaterThan(7900);
    expect(most).toBeLessThan(6e-5);
    expect(rms).toBeLessThan(2e-6);
  });

  test('of a mesh with vertex rows has no facet error', async () => {
    const { most, rms } = error(await nominalFromMesh(makeMesh(), {}, {}));
    expect(most).toBeLessThan(6e-5);
    expect(rms).toBeLessThan(2e-6);
  });

  test('of a mesh with root block, platform and fillet keeps the aerofoil only', async () => {
    const blade = await nominalFromMesh(makeMesh({ root: ROOT_BLOCK }), {}, {});
    expect(blade.surface.heights[0]).toBeGreaterThan(-1);
    expect(blade.surface.heights[0]).toBeLessThan(6);
    expect(blade.surface.heights[blade.surface.heights.length - 1]).toBeCloseTo(120, 6);
    const { most } = error(blade, nominalBlade(), 8, 119.5);
    expect(most).toBeLessThan(6e-5);
  });

  test('of a mesh without vertex rows follows its vertices, not its facets (seed 4)', async () => {
    const { most, rms } = error(await nominalFromMesh(scatteredMesh(4), {}, {}), nominalBlade(), 2, 118);
    expect(most).toBeLessThan(1e-3);
    expect(rms).toBeLessThan(2e-5);
  });

  test('gives outlines between its sections, with the way from u to their parameter', () => {
    const { surface } = nominalFromTable(exactSections(evenHeights(21), 400), {});
    const nominal = nominalOutline(levelSection(surface, 31.7));
    const place = new Float64Array(PLACE_SIZE);
    const out = new Float64Array(8);
    for (const u of [-30, -0.2, 0, 0.3, 12, 37]) {
      evaluateSurface(surface, u, 31.7, place);
      evaluateOutline(nominal.outline, parameterAtU(nominal, u), out);
      expect(Math.hypot(out[0] - place[0], out[1] - place[1])).toBeLessThan(2e-3);
    }
    evaluateSurface(surface, 0, 31.7, place);
    evaluateOutline(nominal.outline, nominal.edges.leading, out);
    expect(out[0]).toBeCloseTo(place[0], 12);
  });
});
