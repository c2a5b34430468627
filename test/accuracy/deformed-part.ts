import {
  deformedScan,
  inspectDeformed,
  mapError,
  middle,
  POSE,
  type SectionErrors,
  sectionErrors,
} from './deformed.ts';
import type { Outcome, Part } from './part.ts';

/** The deformed part as scans of 1,000,000 points. What is promised of the figures printed (µm, degrees): */
const DEFORMED_LIMITS = { map: 2, chord: 2, thickness: 0.5, leading: 3, trailing: 3, twistDeg: 0.003 } as const;
const FIRST_SEED = 21;

export const deformedPart: Part = { count: 1, of: 'scans', run: runDeformed };

async function runDeformed(scans: number): Promise<Outcome> {
  const errors: SectionErrors = { chord: [], thickness: [], leading: [], trailing: [], twistDeg: [] };
  let inPose = 0;
  let atFit = 0;
  for (let seed = FIRST_SEED; seed < FIRST_SEED + scans; seed++) {
    const scan = deformedScan(seed);
    const known = await inspectDeformed(scan, POSE);
    inPose = Math.max(inPose, 1000 * mapError(known).rms);
    atFit = Math.max(atFit, 1000 * mapError(await inspectDeformed(scan, null)).rms);
    for (const [key, list] of Object.entries(sectionErrors(known))) errors[key as keyof SectionErrors].push(...list);
  }
  const found = { map: Math.max(inPose, atFit), ...mediansOf(errors) };
  const um = (value: number) => `${value.toFixed(2)} µm`;
  const rows: [string, string][] = [
    ['surface map, rms', `${um(inPose)} in the true pose, ${um(atFit)} at the best fit`],
    ['inner sections, medians: chord, largest thickness', `${um(found.chord)}, ${um(found.thickness)}`],
    [
      'leading and trailing edge radius (0.25 to 0.42 and 0.20 to 0.30 mm)',
      `${um(found.leading)}, ${um(found.trailing)}`,
    ],
    ['twist by fit', `${found.twistDeg.toFixed(5)}°`],
  ];
  const keys = Object.keys(DEFORMED_LIMITS) as (keyof typeof DEFORMED_LIMITS)[];
  return {
    lines: rows.map(([what, error]) => `${what}: ${error}`),
    broken: keys.filter((key) => !(found[key] <= DEFORMED_LIMITS[key])).map((key) => `${key} ${found[key].toFixed(4)}`),
    summary: {
      title: 'Deformed sample blade, 1,000,000 points, 5 µm noise, 0.1 % outliers, a shadow:',
      head: ['what', 'error against the closed form'],
      rows,
    },
  };
}

/** Medians of the errors: lengths in µm, the twist in degrees. */
function mediansOf(errors: SectionErrors): Record<keyof SectionErrors, number> {
  const median = (list: number[], scale: number) => scale * middle(list.sort((a, b) => a - b));
  const { chord, thickness, leading, trailing, twistDeg } = errors;
  return {
    chord: median(chord, 1000),
    thickness: median(thickness, 1000),
    leading: median(leading, 1000),
    trailing: median(trailing, 1000),
    twistDeg: median(twistDeg, 1),
  };
}
