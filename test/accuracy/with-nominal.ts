import { interpolatedFit } from '../../src/fit/fit-evidence.ts';
import { fitFromNominal } from '../../src/fit/fit-from-nominal.ts';
import { fitOutline } from '../../src/fit/fit-outline.ts';
import type { FittedOutline } from '../../src/model/outline.ts';
import { exactNominal, exactPoints, smoothDeparture } from '../support/departed-section.ts';
import { REFERENCE_SECTIONS, type ReferenceName, sectionPoints } from '../support/reference-sections.ts';
import { type RowErrors, type RowStatistics, statisticsOfRows } from './row-statistics.ts';
import { contextOf, POINTS, type Reading, readingsOf, type SeedTask } from './section-statistics.ts';

/** Statistics of the measures of noisy random points of a part that departs smoothly from its nominal. */

/** Largest departure (mm). */
const SIZE = 0.05;

/** Fits of one seed: points of a part with its own departure, from the nominal and freely. */
export function withNominalFit(
  name: ReferenceName,
  noise: number,
  seed: number,
  way: 'nominal' | 'free',
): FittedOutline {
  const reference = REFERENCE_SECTIONS[name];
  const points = sectionPoints(reference, POINTS, noise, seed, smoothDeparture(reference, seed, SIZE));
  const nominal = exactNominal(reference);
  if (way === 'free') return fitOutline(points, { corners: [], sigma: noise, guide: nominal });
  const fitted = fitFromNominal(nominal, points, noise);
  if (!fitted) throw new Error(`${name}, seed ${seed}: the nominal did not serve.`);
  return fitted;
}

const known = new Map<string, Map<string, Reading>>();

/** Readings of the departed section without noise. */
function departedTruths(name: ReferenceName, seed: number): Map<string, Reading> {
  const key = `${name} ${seed}`;
  let truth = known.get(key);
  if (!truth) {
    const reference = REFERENCE_SECTIONS[name];
    const points = exactPoints(reference, { edge: 200, flank: 400 }, smoothDeparture(reference, seed, SIZE));
    truth = readingsOf(contextOf(interpolatedFit(points, [], 0)), name);
    known.set(key, truth);
  }
  return truth;
}

/** Errors of every row over seeds from … from + count − 1, each a part of its own. */
export function withNominalErrors(
  { name, noise, from, count }: SeedTask,
  way: 'nominal' | 'free' = 'nominal',
): RowErrors {
  const errors: RowErrors = new Map();
  for (let seed = from; seed < from + count; seed++) {
    const truth = departedTruths(name, seed);
    for (const [row, { value, u }] of readingsOf(contextOf(withNominalFit(name, noise, seed, way)), name)) {
      const exact = truth.get(row);
      // An edge that departs from its circle has no radius of the circle.
      if (!exact) continue;
      const list = errors.get(row) ?? [];
      list.push({ error: value - exact.value, u });
      errors.set(row, list);
    }
  }
  return errors;
}

/** Statistics of every row over seeds from … from + count − 1. */
export function withNominalStatistics(
  name: ReferenceName,
  noise: number,
  from: number,
  count: number,
  way: 'nominal' | 'free' = 'nominal',
): Map<string, RowStatistics> {
  return statisticsOfRows(withNominalErrors({ name, noise, from, count }, way));
}
