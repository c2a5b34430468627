import { composePoses, invertPose, poseFromMatrix, poseToMatrix, rotationLog } from '../../src/math/rigid.ts';
import type { Vec3 } from '../../src/math/vec3.ts';
import type { Pose } from '../../src/model/pose.ts';
import type { DeviationMap, Place, Results, SectionResult } from '../../src/model/results.ts';
import type { StockCells, StockZone } from '../../src/model/stock-cells.ts';
import type { SpareCurve } from '../../src/model/stock-results.ts';
import { poseAbout, type RotationOrder, rotationOfAnglesDeg, translationAt } from '../../src/place/pose-readings.ts';
import { leastSpare, spareCurves, trialCells } from '../../src/place/spare-curves.ts';
import { formatFixed } from '../../src/report/format-number.ts';
import type { BlankReply } from '../../src/worker/messages.ts';
import { SIDE_WORDS } from '../controls/words.ts';
import { nearestCell } from './nearest-cell.ts';
import { placedValues, type ReviewState, type Wanted } from './review-state.ts';
import { sideAt } from './selection.ts';

/** What a placement that is tried gives by the cells of the last result, their stock taken as linear in the motion. */
export interface TrialStock {
  /** Least of (stock − wanted) / weight, and its cell; NaN and −1 where nothing is measured. */
  spare: number;
  cell: number;
  /** Measured area with less than wanted, and with more than allowed (mm²). */
  shortMm2: number;
  overMm2: number;
}

/** Everything the page needs for trials of one reply, made once. */
export interface TrialField {
  /** Results with map, sections and answer of the trial. */
  results(values: readonly number[], wanted: Wanted | null): Results;
  /** Least spare stock against each motion, the others at these values. */
  curves(values: readonly number[], wanted: Wanted | null): SpareCurve[];
  /** What the 3D view draws of the trial. */
  drawing(values: readonly number[]): BlankReply['drawing'];
  /** Area short of stock (mm²) against the least stock wanted (mm). */
  shortArea(values: readonly number[], steps: readonly number[]): number[];
}

/** Motion of a placement's six values about the pivot of the reply. */
function poseOf(reply: BlankReply, values: readonly number[]): Pose {
  const { pivot, rotationOrder } = reply.results.alignment!;
  const rotation = rotationOfAnglesDeg(values.slice(3), rotationOrder as RotationOrder);
  return poseAbout(rotation, values.slice(0, 3), pivot);
}

/** Row-major 4 × 4 of a placement's six values. */
export function trialMatrix(reply: BlankReply, values: readonly number[]): number[] {
  return poseToMatrix(poseOf(reply, values));
}

/** The zones with the stock wanted that is tried instead of the plan's. */
function wantedZones(zones: readonly StockZone[], wanted: Wanted | null): StockZone[] {
  return zones.map((zone) => (wanted ? { ...zone, least: wanted.least, most: wanted.most } : zone));
}

/** Least spare stock of cells, and the areas outside what is wanted; the factor is that of a cell's uncertainty. */
export function spareOfCells(cells: StockCells, zones: readonly StockZone[], factor: number): TrialStock {
  let [shortMm2, overMm2] = [0, 0];
  for (let i = 0; i < cells.count; i++) {
    const zone = zones[cells.zone[i]];
    if (!zone) continue;
    if (cells.stock[i] < zone.least + factor * cells.uStock[i]) shortMm2 += cells.area[i];
    if (zone.most !== null && cells.stock[i] > zone.most) overMm2 += cells.area[i];
  }
  return { ...leastSpare(cells, zones, undefined, factor), shortMm2, overMm2 };
}

/** The vertices of the drawing as cells without stock: dense places with normals, for what a motion adds. */
function vertexCells(reply: BlankReply): StockCells {
  const { drawing, cells } = reply;
  return {
    ...cells,
    count: drawing.height.length,
    point: Float64Array.from(drawing.positions),
    normal: Float64Array.from(drawing.normals),
    stock: new Float64Array(drawing.height.length),
  };
}

const plus = (value: number | null, by: number): number | null => (value === null ? null : value + by);

function shiftedMap(map: DeviationMap, shift: Float64Array, cellOf: readonly Int32Array[]): DeviationMap {
  return { ...map, deviation: map.deviation.map((row, i) => row.map((d, j) => plus(d, shift[cellOf[i][j]]))) };
}

function shiftedSection(section: SectionResult, shift: Float64Array, cellOf: Int32Array): SectionResult {
  if (!section.plot) return section;
  const deviation = section.plot.deviation.map((d, j) => plus(d, shift[cellOf[j]]));
  return { ...section, plot: { ...section.plot, deviation } };
}

/**
 * @param reply a result on all points, the ground of every trial
 * @param zones zones with the stock the plan wants
 */
export function trialField(reply: BlankReply, zones: readonly StockZone[]): TrialField {
  const { results, drawing } = reply;
  const { factor } = results.stock!.wanted;
  const { matrix, pivot, rotationOrder } = results.alignment!;
  const placed = poseFromMatrix(matrix);
  const vertices = vertexCells(reply);
  const find = nearestCell({ count: vertices.count, height: drawing.height, along: drawing.along });
  const vertexOf = (height: number, along: readonly number[]): Int32Array =>
    Int32Array.from(along, (at) => find(height, at));
  const ofMap = results.map?.along.map((row, i) => vertexOf(results.map!.heights[i], row)) ?? [];
  const ofSections = results.sections.map((s) => vertexOf(s.height, s.plot?.along ?? []));

  /** Small motion from the placement of the reply: shift of the pivot and rotation vector (mm, rad). */
  function motionTo(values: readonly number[]): number[] {
    const motion = composePoses(poseOf(reply, values), invertPose(placed));
    return [...translationAt(motion, pivot), ...rotationLog(motion.rotation)];
  }
  const cellsAt = (values: readonly number[]): StockCells => ({
    ...reply.cells,
    stock: trialCells(reply.cells, pivot, motionTo(values)),
  });
  const shiftAt = (values: readonly number[]): Float64Array => trialCells(vertices, pivot, motionTo(values));

  function placeOf({ height, along, point }: StockCells, cell: number): Place {
    const side = sideAt(results, height[cell], along[cell]);
    return {
      height: height[cell],
      along: along[cell],
      side,
      point: [...point.subarray(3 * cell, 3 * cell + 3)] as Vec3,
    };
  }

  return {
    results(values, wanted) {
      const used = wantedZones(zones, wanted);
      const cells = cellsAt(values);
      const shift = shiftAt(values);
      const found = spareOfCells(cells, used, factor);
      const { spare, cell } = found;
      const place = cell < 0 ? null : placeOf(cells, cell);
      const least = cell < 0 ? null : cells.stock[cell];
      const before = results.stock!;
      const text = trialText(least, found, place);
      return {
        ...results,
        answers: {
          ...results.answers,
          stock: { text, verdict: cell < 0 ? 'not-measured' : spare < 0 ? 'fail' : 'not-proven' },
        },
        ...(results.map ? { map: shiftedMap(results.map, shift, ofMap) } : {}),
        sections: results.sections.map((s, k) => shiftedSection(s, shift, ofSections[k])),
        stock: {
          ...before,
          least: { ...before.least, value: least, u: cell < 0 ? null : cells.uStock[cell], place },
          areas: [],
          zones: before.zones.map((zone, k) => ({ ...zone, wanted: { least: used[k].least, most: used[k].most } })),
        },
      };
    },
    curves(values, wanted) {
      const options = { pivot, rotationOrder: rotationOrder as RotationOrder, factor };
      return spareCurves(cellsAt(values), wantedZones(zones, wanted), poseOf(reply, values), options);
    },
    drawing(values) {
      const shift = shiftAt(values);
      return { ...drawing, deviation: drawing.deviation.map((d, i) => d + shift[i]) };
    },
    shortArea(values, steps) {
      const cells = cellsAt(values);
      return steps.map((least) => {
        const used = zones.map((zone) => ({ ...zone, least }));
        return spareOfCells(cells, used, factor).shortMm2;
      });
    },
  };
}

const mm = (value: number): string => `${formatFixed(value, 3, { signed: true })} mm`;

/** The sentence of a trial: least stock with its place, and the areas outside what is wanted. */
function trialText(least: number | null, { spare, shortMm2, overMm2 }: TrialStock, place: Place | null): string {
  if (least === null || place === null) return 'Trial: nothing is measured here.';
  const where = `at ${place.height.toFixed(1)} mm height, ${SIDE_WORDS[place.side]}`;
  const head =
    spare < 0
      ? `${shortMm2.toFixed(0)} mm² short of stock, by ${Math.abs(spare).toFixed(3)} mm at most`
      : `enough stock by the cells, ${mm(spare)} to spare`;
  const over = overMm2 > 0 ? ` ${overMm2.toFixed(0)} mm² more than allowed.` : '';
  return `Trial: ${head}. Least ${mm(least)} ${where}.${over}`;
}

/** What the page shows: the reply's results, or those of the values and the stock wanted that are tried. */
export function shownResults(review: ReviewState, field: TrialField): Results {
  const { reply, trial, wanted, usedWanted } = review;
  if (trial === null && wanted?.least === usedWanted?.least && wanted?.most === usedWanted?.most) return reply!.results;
  return field.results(trial ?? placedValues(reply!), wanted);
}
