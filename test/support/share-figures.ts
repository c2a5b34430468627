import { seededRandom } from '../../src/math/random.ts';
import { simplexSearch } from '../../src/math/simplex-search.ts';
import type { Pose } from '../../src/model/pose.ts';
import { poseAbout, rotationOfAnglesDeg } from '../../src/place/pose-readings.ts';
import { shareStock } from '../../src/place/share-stock.ts';
import { leastSpare } from '../../src/place/spare-curves.ts';
import { deformedBlank, deformedField, deformedZones } from './deformed-blank.ts';

const PIVOT = [0, 0, 60] as const;
const ORDER = 'RzRyRx';
/** Allowed motion either way (mm, degrees). */
const REACH = [0.8, 0.8, 0.8, 0.8, 0.8, 0.8];

export interface ShareTask {
  seed: number;
  rows: number;
  columns: number;
  /** Searches without derivatives from places all over the ranges, and most steps of each. */
  searches: number;
  steps: number;
}

/** Spare stock of the two optima (mm), and what the linear programmes took. */
export interface ShareFigures {
  seed: number;
  shared: number;
  searched: number;
  evaluations: number;
  agreeing: number;
  converged: boolean;
}

/**
 * The best placement of a seeded blank by linear programmes and by the downhill simplex from many starts, one of them the
 * placement the programmes found. Both judge the same closed-form stock; every third blank is held in height.
 */
export async function shareFigures({ seed, rows, columns, searches, steps }: ShareTask): Promise<ShareFigures> {
  const zones = deformedZones(seed);
  const field = deformedField(deformedBlank(seed), rows, columns);
  const uniform = seededRandom(2000 + seed);
  const reach = REACH.map((value, k) => (k === 2 && seed % 3 === 0 ? 0 : value));
  const poseOf = (values: ArrayLike<number>): Pose => {
    const all = Array.from(values);
    return poseAbout(rotationOfAnglesDeg(all.slice(3), ORDER), all.slice(0, 3), PIVOT);
  };
  const start = reach.map((value) => 0.5 * value * (2 * uniform() - 1));
  const shared = await shareStock((pose) => Promise.resolve(field(pose)), poseOf(start), {
    zones,
    pivot: [...PIVOT],
    rotationOrder: ORDER,
    from: poseOf(new Float64Array(6)),
    ranges: {
      x: around(reach[0]),
      y: around(reach[1]),
      z: around(reach[2]),
      rx: around(reach[3]),
      ry: around(reach[4]),
      rz: around(reach[5]),
    },
  });
  const lacking = (values: Float64Array): number => {
    const inside = values.map((value, k) => Math.min(Math.max(value, -reach[k]), reach[k]));
    const outside = values.reduce((sum, value, k) => sum + Math.abs(value - inside[k]), 0);
    return outside - leastSpare(field(poseOf(inside)), zones).spare;
  };
  let searched = Number.NEGATIVE_INFINITY;
  const search = (from: ArrayLike<number>, size: number): void => {
    let at = Float64Array.from(from);
    // A simplex that has fallen flat is set up anew where it ended.
    for (const part of [1, 0.3, 0.1]) {
      const sizes = reach.map((value) => (value === 0 ? 0 : size * part));
      const found = simplexSearch(lacking, at, sizes, 1e-7, steps);
      at = Float64Array.from(found.at);
      searched = Math.max(searched, -found.value);
    }
  };
  search(shared.values, 0.02);
  for (let k = 0; k < searches; k++) search(k === 0 ? start : reach.map((value) => value * (2 * uniform() - 1)), 0.2);
  const { spare, evaluations, agreeing, converged } = shared;
  return { seed, shared: spare, searched, evaluations, agreeing, converged };
}

function around(reach: number): [number, number] {
  return [-reach, reach];
}
