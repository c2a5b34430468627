/** The deformed part as a scan of 1,000,000 points, 5 um noise, 0.1 % outliers and a shadow, against the closed form. */
import { deform, formAt, nominalBlade } from '../../samples/blade.ts';
import { makeScan, type Scan } from '../../samples/scan.ts';
import { poseOf } from '../../samples/scenario.ts';
import { PRESSURE } from '../../samples/section-form.ts';
import { sectionValues } from '../../samples/section-values.ts';
import { evenHeights, exactSections } from '../../samples/tessellate.ts';
import { exactOutline } from '../../src/fit/nominal-blade.ts';
import { composePoses, identityPose, invertPose, poseFromMatrix, poseToMatrix } from '../../src/math/rigid.ts';
import { fitSection } from '../../src/measure/twist-fit.ts';
import type { Pose } from '../../src/model/pose.ts';
import type { Results } from '../../src/model/results.ts';
import { inspect } from '../../src/pipeline.ts';
import { exactTarget } from '../support/exact-nominal.ts';
import { loaded } from '../support/loaded.ts';
import { movedDeviation } from '../support/moved-deviation.ts';

export const DEFORMED = deform(nominalBlade(), {
  twistDeg: [0, 0.2],
  bow: [0.02, 0.06],
  thickness: [0.03],
  leading: [-0.03],
});
export const SHADOW = { piece: PRESSURE, fromT: 0.35, toT: 0.6, fromHeight: 40, toHeight: 52 } as const;
export const POSE = poseOf([40, -110, 75], [120, -40, 60]);
const HEIGHTS = evenHeights(21);

export function deformedScan(seed: number): Scan {
  return makeScan({
    blade: DEFORMED,
    points: 1_000_000,
    seed,
    noise: 0.005,
    outliers: 0.001,
    shadows: [SHADOW],
    pose: POSE,
  });
}

/** Results of the scan, in its true pose or placed by best fit. */
export async function inspectDeformed(scan: Scan, given: Pose | null): Promise<Results> {
  const { results } = await inspect(
    {
      nominal: loaded(exactSections(HEIGHTS, 400), 'nominal.csv'),
      measured: [loaded(scan.cloud, 'scan.ply')],
      ...(given ? { pose: poseToMatrix(given) } : {}),
    },
    {},
  );
  return results;
}

/** Root mean square error (mm) of every fifth row of the map against the closed form at the placement found. */
export function mapError(results: Results): { rms: number; cells: number } {
  const { map, alignment } = results;
  if (!map || !alignment) throw new Error('The results hold no map.');
  const surface = exactTarget().surface;
  const extra =
    alignment.method === 'given' ? identityPose() : composePoses(poseFromMatrix(alignment.matrix), invertPose(POSE));
  let squares = 0;
  let cells = 0;
  map.heights.forEach((height, row) => {
    if (row % 5 !== 2 || height < 1 || height > 119) return;
    map.along[row].forEach((along, column) => {
      const found = map.deviation[row][column];
      if (found === null) return;
      squares += (found - movedDeviation(surface, DEFORMED, extra, along, height)) ** 2;
      cells++;
    });
  });
  return { rms: Math.sqrt(squares / cells), cells };
}

export interface SectionErrors {
  /** Absolute errors over the inner sections, rising (mm, degrees). */
  chord: number[];
  thickness: number[];
  leading: number[];
  trailing: number[];
  twistDeg: number[];
}

/** Errors of the inner sections against the closed form; twist against the exact sections' own rigid fit. */
export function sectionErrors(results: Results): SectionErrors {
  const errors: SectionErrors = { chord: [], thickness: [], leading: [], trailing: [], twistDeg: [] };
  for (const { height, measured, twistFitDeg } of results.sections) {
    if (height <= 0 || height >= 120 || !measured) continue;
    const { form } = formAt(DEFORMED, height);
    const exact = sectionValues(form);
    const [nominal, own] = [nominalBlade(), DEFORMED].map((blade) =>
      exactOutline(exactSections([height], 800, blade).sections[0].points),
    );
    const truth = fitSection(nominal, null, own, [0, 0]);
    const note = (list: number[], value: number | null | undefined, known: number): void => {
      if (value !== null && value !== undefined) list.push(Math.abs(value - known));
    };
    note(errors.chord, measured.chordFar.value, exact.chordFar);
    note(errors.thickness, measured.thicknessMax.value, exact.thicknessMax);
    note(errors.leading, measured.leadingEdge.radiusFit.value, form.leading);
    note(errors.trailing, measured.trailingEdge.radiusFit.value, form.trailing);
    if (truth) note(errors.twistDeg, twistFitDeg?.value, (truth.twist * 180) / Math.PI);
  }
  for (const list of Object.values(errors) as number[][]) list.sort((a, b) => a - b);
  return errors;
}

export function middle(rising: readonly number[]): number {
  return rising[rising.length >> 1];
}
