import { cellBorders, sideOf } from '../../src/judge/map-places.ts';
import { composePoses, invertPose, poseFromMatrix, poseToMatrix } from '../../src/math/rigid.ts';
import type { Pose } from '../../src/model/pose.ts';
import type { DeviationMap, Place, Results, SectionResult } from '../../src/model/results.ts';
import type { StockCells, StockZone } from '../../src/model/stock-cells.ts';
import type { SpareCurve } from '../../src/model/stock-results.ts';
import { poseAbout, type RotationOrder, rotationOfAnglesDeg } from '../../src/place/pose-readings.ts';
import type { BlankReply } from '../../src/worker/messages.ts';
import { MOTIONS, type Motion, SIDE_WORDS } from '../controls/words.ts';
import { nearestCell } from './nearest-cell.ts';
import { placedValues, type ReviewState, type Wanted } from './review-state.ts';

/** What a placement that is tried gives by the cells of the last result, their stock taken as linear in the motion. */
export interface TrialStock {
  /** Stock of every cell (mm); NaN where not measured. */
  stock: Float64Array;
  /** Least of (stock − wanted) / weight, and its cell; −1 where nothing is measured. */
  spare: number;
  cell: number;
  /** Measured area with less than wanted (mm²). */
  shortMm2: number;
}

/** Everything the page needs for trials of one reply, made once. */
export interface TrialField {
  /** Results with map, sections and answer of the trial. */
  results(values: readonly number[], wanted: Wanted | null): Results;
  /** Least spare stock against each motion, the others at these values. */
  curves(values: readonly number[], wanted: Wanted | null): SpareCurve[];
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
export function wantedZones(zones: readonly StockZone[], wanted: Wanted | null): StockZone[] {
  return zones.map((zone) => (wanted ? { ...zone, least: wanted.least, most: wanted.most } : zone));
}

/** Outward shift of the blank at every cell (mm) by a motion in the blade frame: n · (R p + t − p). */
export function shiftOfCells(cells: StockCells, { rotation: r, translation: t }: Pose): Float64Array {
  const { point, normal } = cells;
  return Float64Array.from({ length: cells.count }, (_, i) => {
    const [x, y, z] = [point[3 * i], point[3 * i + 1], point[3 * i + 2]];
    return (
      normal[3 * i] * ((r[0] - 1) * x + r[1] * y + r[2] * z + t[0]) +
      normal[3 * i + 1] * (r[3] * x + (r[4] - 1) * y + r[5] * z + t[1]) +
      normal[3 * i + 2] * (r[6] * x + r[7] * y + (r[8] - 1) * z + t[2])
    );
  });
}

/**
 * Least spare stock and area short of stock of cells.
 * @param factor times a cell's standard uncertainty that is wanted on top
 */
export function spareOfCells(
  cells: StockCells,
  zones: readonly StockZone[],
  stock: Float64Array,
  factor: number,
): TrialStock {
  let [spare, cell, shortMm2] = [Number.POSITIVE_INFINITY, -1, 0];
  for (let i = 0; i < cells.count; i++) {
    const zone = zones[cells.zone[i]];
    if (!zone || Number.isNaN(stock[i])) continue;
    const over = stock[i] - zone.least - factor * cells.uStock[i];
    if (over < 0) shortMm2 += cells.area[i];
    if (over / zone.weight < spare) [spare, cell] = [over / zone.weight, i];
  }
  return { stock, spare, cell, shortMm2 };
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

/** Half width of the range of a curve (mm, degrees) about its middle. */
const CURVE_REACH = [1, 1, 1, 0.5, 0.5, 0.5];
const CURVE_POINTS = 41;

/**
 * @param reply a result on all points, the ground of every trial
 * @param zones zones with the stock the plan wants
 */
export function trialField(reply: BlankReply, zones: readonly StockZone[]): TrialField {
  const { results, cells } = reply;
  const { factor } = results.stock!.wanted;
  const back = invertPose(poseFromMatrix(results.alignment!.matrix));
  const find = nearestCell(cells);
  const cellsOfRow = (height: number, along: readonly number[]): Int32Array =>
    Int32Array.from(along, (at) => find(height, at));
  const ofMap = results.map?.along.map((row, i) => cellsOfRow(results.map!.heights[i], row)) ?? [];
  const ofSections = results.sections.map((s) => cellsOfRow(s.height, s.plot?.along ?? []));

  const shiftAt = (values: readonly number[]): Float64Array =>
    shiftOfCells(cells, composePoses(poseOf(reply, values), back));
  const stockAt = (shift: Float64Array): Float64Array => shift.map((by, i) => cells.stock[i] + by);
  const trialAt = (values: readonly number[], wanted: Wanted | null): TrialStock =>
    spareOfCells(cells, wantedZones(zones, wanted), stockAt(shiftAt(values)), factor);

  function placeOf(cell: number): Place {
    const [height, along] = [cells.height[cell], cells.along[cell]];
    const row = results.map?.heights.reduce(
      (best, h, i, all) => (Math.abs(h - height) < Math.abs(all[best] - height) ? i : best),
      0,
    );
    const borders = row === undefined ? [along - 1, along + 1] : cellBorders(results.map!.along[row]);
    const reach = results.stock!.zones[0]?.reach ?? { leading: 0, trailing: 0 };
    const side = sideOf(along, borders[0], borders[borders.length - 1], reach);
    return {
      height,
      along,
      side,
      point: [cells.point[3 * cell], cells.point[3 * cell + 1], cells.point[3 * cell + 2]],
    };
  }

  return {
    results(values, wanted) {
      const shift = shiftAt(values);
      const used = wantedZones(zones, wanted);
      const { stock, spare, cell, shortMm2 } = spareOfCells(cells, used, stockAt(shift), factor);
      const place = cell < 0 ? null : placeOf(cell);
      const least = cell < 0 ? null : stock[cell];
      const before = results.stock!;
      return {
        ...results,
        answers: {
          ...results.answers,
          stock: { text: trialText(least, spare, shortMm2, place), verdict: spare < 0 ? 'fail' : 'not-proven' },
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
      const still = placedValues(reply);
      return MOTIONS.map((axis, k) => {
        const middle = (values[k] + still[k]) / 2;
        const reach = CURVE_REACH[k] + Math.abs(values[k] - still[k]) / 2;
        const at = Array.from({ length: CURVE_POINTS }, (_, i) => middle + reach * ((2 * i) / (CURVE_POINTS - 1) - 1));
        const spare = at.map((value) => trialAt(withValue(values, axis, value), wanted).spare);
        const best = at[spare.indexOf(Math.max(...spare))];
        return { axis, now: values[k], best, values: at, spare };
      });
    },
    shortArea(values, steps) {
      const stock = stockAt(shiftAt(values));
      return steps.map((least) => {
        const used = zones.map((zone) => ({ ...zone, least }));
        return spareOfCells(cells, used, stock, factor).shortMm2;
      });
    },
  };
}

function withValue(values: readonly number[], motion: Motion, value: number): number[] {
  return values.map((before, k) => (MOTIONS[k] === motion ? value : before));
}

const mm = (value: number): string => `${value < 0 ? '−' : '+'}${Math.abs(value).toFixed(2)} mm`;

/** The sentence of a trial: least stock with its place, and the area that is short. */
function trialText(least: number | null, spare: number, shortMm2: number, place: Place | null): string {
  if (least === null || place === null) return 'Trial: nothing is measured here.';
  const where = `at ${place.height.toFixed(1)} mm height, ${SIDE_WORDS[place.side]}`;
  if (spare >= 0) return `Trial: enough stock by the cells, ${mm(spare)} to spare. Least ${mm(least)} ${where}.`;
  return `Trial: ${shortMm2.toFixed(0)} mm² short of stock, by ${mm(-spare).slice(1)} at most. Least ${mm(least)} ${where}.`;
}

/** What the page shows: the reply's results, or those of the values and the stock wanted that are tried. */
export function shownResults(review: ReviewState, field: TrialField): Results {
  const { reply, trial, wanted, usedWanted } = review;
  if (trial === null && wanted?.least === usedWanted?.least && wanted?.most === usedWanted?.most) return reply!.results;
  return field.results(trial ?? placedValues(reply!), wanted);
}
