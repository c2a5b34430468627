import { composePoses, invertPose, poseToMatrix } from '../src/math/rigid.ts';
import { formAt, nominalBlade } from './blade.ts';
import { FORGED_STOCK, forgedField } from './blank.ts';
import { areaBelow } from './blank-areas.ts';
import { balanceOf, greatestLeast } from './blank-balance.ts';
import { type BalancedBlank, EDGES_FORGING, EDGES_NET, edgesBlank, lostBlank, shiftBlank } from './blank-cases.ts';
import { leastStock, type PlacedStock } from './blank-least.ts';
import { type ForgedBlank, stockOnBlade } from './blank-surface.ts';
import { type BladePlace, nominalSurfacePoint } from './deviation.ts';
import { SAMPLE_WANTED } from './plan.ts';
import { BLANK_POSE, BLANK_ROOT_MOTION } from './scenario.ts';
import { alongOf } from './section-area.ts';
import { LEADING, type Piece, PRESSURE, SIDES, SUCTION, TRAILING } from './section-form.ts';

/** Places along the span for which the greatest least stock is told (mm from the planted one). */
const UP = [-2, 0, 2];
/** Lower profile limit of the suction side in the sample plan (mm). */
const LOWER_LIMIT = -0.05;

const WANTED = SAMPLE_WANTED.affectedLayer + SAMPLE_WANTED.minimumChip + SAMPLE_WANTED.locating;

/** A place on the finished blade as results tell places. */
function placeOf({ piece, t, height }: BladePlace): object {
  const finished = nominalBlade();
  return {
    side: SIDES[piece],
    t,
    height,
    along: alongOf(formAt(finished, height).form, { piece, t }),
    point: nominalSurfacePoint(finished, { piece, t, height }).slice(0, 3),
  };
}

const told = ({ stock, place }: PlacedStock): object => ({ stock, ...placeOf(place) });

/** The placement by the targets on the root, and the least stock it leaves. */
function datumTruth(blank: ForgedBlank): object {
  const datum = invertPose(BLANK_ROOT_MOTION);
  return {
    about: 'The six targets of the plan met exactly.',
    matrix: poseToMatrix(composePoses(datum, BLANK_POSE)),
    least: told(leastStock(blank, nominalBlade(), datum)),
  };
}

/** A balanced blank: the placement that shares its stock evenly, what it leaves, and what holds it. */
function balancedTruth(blank: BalancedBlank): object {
  const { weights, perMillimetreUp } = balanceOf(blank);
  return {
    shared: {
      about: 'Greatest least stock with Z held at the planted place; spare = least - wanted, without uncertainty.',
      matrix: poseToMatrix(BLANK_POSE),
      least: blank.least,
      spare: blank.least - WANTED,
      heldBy: blank.spots.map((spot, i) => ({ ...placeOf(spot), weight: weights[i] })),
      perMillimetreUp,
    },
    alongSpan: UP.map((up) => {
      const { least, pose } = greatestLeast(blank, up);
      return { up, least, spare: least - WANTED, matrix: poseToMatrix(composePoses(pose, BLANK_POSE)) };
    }),
    datum: datumTruth(blank),
  };
}

/** The near-net blank: stock of its flanks on a grid and at its noses, in its planted placement. */
function edgesTruth(): object {
  const [blank, finished] = [edgesBlank(), nominalBlade()];
  const heights = [10, 35, 60, 85, 110];
  const at = (piece: Piece, t: number, height: number) => ({
    ...placeOf({ piece, t, height }),
    stock: stockOnBlade(blank, finished, { piece, t, height }),
  });
  return {
    about: 'In the planted placement; a best fit moves the blank as a whole.',
    matrix: poseToMatrix(BLANK_POSE),
    forging: EDGES_FORGING,
    overForging: EDGES_NET,
    datum: datumTruth(blank),
    flanks: heights.flatMap((height) =>
      ([SUCTION, PRESSURE] as const).flatMap((side) => [0.15, 0.5, 0.85].map((t) => at(side, t, height))),
    ),
    noses: heights.flatMap((height) => [at(LEADING, 0, height), at(TRAILING, 0, height)]),
  };
}

function meshTruth(): object {
  const [blade, field] = [nominalBlade(), forgedField(FORGED_STOCK)];
  return {
    about: 'In the frame of the file.',
    field: FORGED_STOCK,
    least: told(leastStock({ blade, field }, blade)),
    areas: [WANTED, 0, LOWER_LIMIT].map((below) => ({ below, areaMm2: areaBelow(blade, field, below) })),
  };
}

let kept: object | null = null;

/** What is known of the sample blanks, by file: the same however they were scanned. Millimetres and degrees. */
export function blanksExpected(): object {
  kept ??= {
    wanted: { ...SAMPLE_WANTED, sum: WANTED },
    'blank.ply': meshTruth(),
    'blank-shift.ply': balancedTruth(shiftBlank()),
    'blank-lost.ply': balancedTruth(lostBlank()),
    'blank-edges.ply': edgesTruth(),
  };
  return kept;
}
