import { composePoses, poseToMatrix } from '../src/math/rigid.ts';
import { exactBestFit } from './best-fit.ts';
import { type BladeLaw, deform, formAt, nominalBlade } from './blade.ts';
import { blanksExpected } from './blank-expected.ts';
import { nominalSurfacePoint } from './deviation.ts';
import type { Nick } from './nick.ts';
import { SAMPLE_DEFORMATION, SAMPLE_HEIGHTS, SAMPLE_POSE, type SAMPLE_SCAN } from './scenario.ts';
import { alongOf } from './section-area.ts';
import { SIDES } from './section-form.ts';
import { type ExactSection, sectionValues } from './section-values.ts';

const DEG = 180 / Math.PI;

interface ExpectedSection {
  id: string;
  height: number;
  nominal: ExactSection;
  measured: ExactSection;
  /** Turn of the measured line of centres against the nominal one, about +Z, before any placement. */
  twistDeg: number;
  /** Shift of the middle of the line of centres, before any placement (mm). */
  displacementX: number;
  displacementY: number;
}

/** Every planted value of a measured blade against its nominal. */
export interface Expected {
  sections: ExpectedSection[];
  /** BOW-END of the shift of the middle of the line of centres (mm), largest over the sections. */
  bow: number;
  /** Slope of the line through the first and last shift, in y and in x (degrees). */
  leanDeg: number;
  sweepDeg: number;
  /** Twist of the last section less that of the first. */
  untwistDeg: number;
}

/** Exact values of nominal and measured sections at heights (mm), and of the shift along the span. */
export function expectedValues(nominal: BladeLaw, measured: BladeLaw, heights: number[]): Expected {
  const sections = heights.map((height, index) => {
    const [from, to] = [formAt(nominal, height).form, formAt(measured, height).form];
    return {
      id: `S${String(index + 1).padStart(2, '0')}`,
      height,
      nominal: sectionValues(from),
      measured: sectionValues(to),
      twistDeg: (to.angle - from.angle) * DEG,
      displacementX: to.x - from.x,
      displacementY: to.y - from.y,
    };
  });
  const [first, last] = [sections[0], sections[sections.length - 1]];
  const rise = last.height - first.height;
  const slopeX = (last.displacementX - first.displacementX) / rise;
  const slopeY = (last.displacementY - first.displacementY) / rise;
  const bows = sections.map(({ height, displacementX, displacementY }) =>
    Math.hypot(
      displacementX - first.displacementX - slopeX * (height - first.height),
      displacementY - first.displacementY - slopeY * (height - first.height),
    ),
  );
  return {
    sections,
    bow: Math.max(...bows),
    leanDeg: Math.atan(slopeY) * DEG,
    sweepDeg: Math.atan(slopeX) * DEG,
    untwistDeg: last.twistDeg - first.twistDeg,
  };
}

/** A planted nick as it would be listed: kind, place on the measured blade before any placement, sizes (mm). */
function nickTruth(blade: BladeLaw, nick: Nick): object {
  const { piece, t, height, depth, width, length } = nick;
  const { form } = formAt(blade, height);
  const point = nominalSurfacePoint(blade, nick).slice(0, 3);
  return {
    kind: 'nick',
    side: SIDES[piece],
    height,
    along: alongOf(form, { piece, t }),
    point,
    depth: -depth,
    width,
    length,
  };
}

/** The table of the sample set: planted values, motion, scan and stock. Millimetres and degrees. */
export function sampleExpected(settings: typeof SAMPLE_SCAN, outlierCount: number): object {
  const nominal = nominalBlade();
  const measured = deform(nominal, SAMPLE_DEFORMATION);
  const { points, surroundings, noise, shadows, nicks, seed } = settings;
  const fit = exactBestFit(nominal, measured, { shadows });
  return {
    about:
      'Planted values. A best fit also turns and moves the blade as a whole, so twist and shift differ by what ' +
      'bestFitMatrix holds beyond plantedMatrix.',
    unit: { length: 'mm', angle: 'deg' },
    plantedMatrix: poseToMatrix(SAMPLE_POSE),
    bestFitMatrix: poseToMatrix(composePoses(fit, SAMPLE_POSE)),
    scan: {
      seed,
      points,
      surroundings,
      noise,
      outlierCount,
      shadows: shadows.map(({ piece, ...range }) => ({ side: SIDES[piece], ...range })),
    },
    deformation: SAMPLE_DEFORMATION,
    faults: nicks.map((nick) => nickTruth(measured, nick)),
    blanks: blanksExpected(),
    ...expectedValues(nominal, measured, SAMPLE_HEIGHTS),
  };
}
