import { solveSymmetric } from '../math/least-squares.ts';
import { MAD_TO_SIGMA, medianInPlace } from '../math/median.ts';
import { POINT_OUTLIER, POINT_USED, type Relation } from '../model/relation.ts';
import type { NominalSurface } from '../model/surface.ts';
import { type CellPoints, sortIntoCells } from './sort-into-cells.ts';
import { type SurfaceCells, surfaceCells } from './surface-cells.ts';

/** Every point's departure from the smooth surface round it. */
export interface Departures {
  /** Departure (mm, positive outward), NaN where the surroundings hold too few points. */
  departure: Float64Array;
  /** Variance of the surroundings at the point over that of one point. */
  share: Float32Array;
  /** Points a mm² where there are any. */
  density: number;
}

/** Half length along the span of the surroundings (mm). */
const HALF_SPAN = 3;
/** Points a column and row that are asked; more add little. */
const ASKED = 5;
/** Step of the choice: no raster of a scan falls in with it. */
const GOLDEN = 0.6180339887498949;
const TERMS = 6;
const LEAST_POINTS = 15;
const ROUNDS = 4;
/** Spreads beyond which a point takes no part in the first round, halved. */
const FAR = 4;
/** Distance between two local fits along the span (mm). */
const PITCH = 1;

/**
 * Returns the departures of the related points, lone strays too, from a robust smooth surface round each: a quadratic in
 * position and height over a strip along the span, 6 mm long and as narrow as the outline turns (so the surroundings of a
 * nose are the nose, not the flanks), by iterated weights 1 / (1 + (r/2s)²)² that drop to nothing far off. What is alike
 * along the span is form and no departure.
 * @param noise standard deviation of a point along the normal (mm)
 */
export function spanDepartures(surface: NominalSurface, relation: Relation, noise: number): Departures {
  const all = withStrays(relation);
  const { cells, sorted, density } = stripCells(surface, all);
  const columns = cells.columnBorders.length - 1;
  const rows = cells.heights.length;
  const rowHeight = cells.rowBorders[1] - cells.rowBorders[0];
  const reach = Math.max(2, Math.round(HALF_SPAN / rowHeight));
  const step = Math.max(1, Math.round(PITCH / rowHeight));
  const stations = Math.max(1, Math.ceil((rows - 1) / step)) + 1;
  const fits = { stations, step, term: new Float64Array(stations * TERMS), count: new Float64Array(stations) };
  const departure = new Float64Array(relation.count).fill(NaN);
  const share = new Float32Array(relation.count);
  const strip = { x: new Float64Array(8192), y: new Float64Array(8192), d: new Float64Array(8192) };
  for (let c = 0; c < columns; c++) {
    const uc = 0.5 * (cells.columnBorders[c] + cells.columnBorders[c + 1]);
    const half = 0.5 * (cells.columnBorders[c + 1] - cells.columnBorders[c]);
    const at = (s: number) => Math.min(rows - 1, s * step);
    for (let s = 0; s < stations; s++) {
      const first = Math.max(0, Math.min(at(s) - reach, rows - 1 - 2 * reach));
      const last = Math.min(rows - 1, first + 2 * reach);
      const count = gather(all, sorted, columns, c, first, last, cells.heights[at(s)], uc, half, strip);
      fits.count[s] = localFit(strip, count, noise, fits.term.subarray(s * TERMS, (s + 1) * TERMS));
    }
    for (let r = 0; r < rows; r++) {
      const k = r * columns + c;
      for (let j = sorted.start[k]; j < sorted.start[k + 1]; j++) {
        const i = sorted.points[j];
        const place = Math.min(Math.max((all.height[i] - cells.heights[0]) / rowHeight / step, 0), stations - 1.000001);
        const s = Math.floor(place);
        if (fits.count[s] === 0 || fits.count[s + 1] === 0) continue;
        const low = valueAt(fits.term, s, all.u[i], all.height[i], uc, half, cells.heights[at(s)]);
        const high = valueAt(fits.term, s + 1, all.u[i], all.height[i], uc, half, cells.heights[at(s + 1)]);
        const t = Math.min(1, place - s);
        departure[i] = all.deviation[i] - (1 - t) * low - t * high;
        const oneSided = r < reach || r >= rows - reach;
        share[i] = (oneSided ? 15 : 6) / Math.min(fits.count[s], fits.count[s + 1]);
      }
    }
  }
  return { departure, share, density };
}

/** The relation with lone strays taken for used points: three of a nick's points look like strays. */
function withStrays(relation: Relation): Relation {
  return { ...relation, flag: relation.flag.map((flag) => (flag === POINT_OUTLIER ? POINT_USED : flag)) };
}

function stripCells(
  surface: NominalSurface,
  relation: Relation,
): { cells: SurfaceCells; sorted: CellPoints; density: number } {
  const rough = surfaceCells(surface, 1, 1);
  const { start } = sortIntoCells(relation, rough);
  let area = 0;
  let points = 0;
  for (let k = 0; k + 1 < start.length; k++) {
    if (start[k + 1] === start[k]) continue;
    area += rough.area[k];
    points += start[k + 1] - start[k];
  }
  const density = area > 0 ? points / area : 1;
  const size = Math.min(Math.max(0.5, Math.sqrt(8 / density)), 2);
  const cells = surfaceCells(surface, size, Math.min(size, 3 / (density * size)));
  return { cells, sorted: sortIntoCells(relation, cells), density };
}

/** Writes the points of a strip in its own coordinates (−1 … 1 over a cell and over the reach); returns their number. */
function gather(
  relation: Relation,
  sorted: CellPoints,
  columns: number,
  column: number,
  first: number,
  last: number,
  height: number,
  uc: number,
  half: number,
  strip: { x: Float64Array; y: Float64Array; d: Float64Array },
): number {
  let count = 0;
  for (let r = first; r <= last; r++) {
    const from = sorted.start[r * columns + column];
    const held = sorted.start[r * columns + column + 1] - from;
    const all = held <= 2 * ASKED;
    const asked = all ? held : ASKED;
    for (let a = 0; a < asked && count < strip.d.length; a++) {
      const turn = (r * ASKED + a) * GOLDEN;
      const i = sorted.points[from + (all ? a : Math.floor(held * (turn - Math.floor(turn))))];
      strip.x[count] = (relation.u[i] - uc) / half;
      strip.y[count] = (relation.height[i] - height) / HALF_SPAN;
      strip.d[count++] = relation.deviation[i];
    }
  }
  return count;
}

const matrix = new Float64Array(TERMS * TERMS);
const right = new Float64Array(TERMS);
const row = new Float64Array(TERMS);
const scratch = new Float64Array(8192);

function terms(x: number, y: number): void {
  row[0] = 1;
  row[1] = x;
  row[2] = y;
  row[3] = x * x;
  row[4] = x * y;
  row[5] = y * y;
}

/** Writes the robust quadratic of a strip's points; returns how many it stands on, 0 when they do not hold it. */
function localFit(
  strip: { x: Float64Array; y: Float64Array; d: Float64Array },
  count: number,
  noise: number,
  out: Float64Array,
): number {
  out.fill(0);
  if (count < LEAST_POINTS) return 0;
  const { x, y, d } = strip;
  scratch.set(d.subarray(0, count));
  out[0] = medianInPlace(scratch, count);
  for (let round = 0; round < ROUNDS; round++) {
    for (let i = 0; i < count; i++) scratch[i] = Math.abs(d[i] - polynomial(out, 0, x[i], y[i]));
    const spread = Math.max(noise, MAD_TO_SIGMA * medianInPlace(scratch, count));
    matrix.fill(0);
    right.fill(0);
    for (let i = 0; i < count; i++) {
      const z = (d[i] - polynomial(out, 0, x[i], y[i])) / (2 * spread);
      // The first round only leaves strays out: from a level start, steep form would count as departure.
      const w = round > 0 ? 1 / ((1 + z * z) * (1 + z * z)) : z * z < FAR * FAR ? 1 : 0;
      terms(x[i], y[i]);
      for (let a = 0; a < TERMS; a++) {
        right[a] += w * row[a] * d[i];
        for (let b = a; b < TERMS; b++) matrix[a * TERMS + b] += w * row[a] * row[b];
      }
    }
    for (let a = 0; a < TERMS; a++) for (let b = 0; b < a; b++) matrix[a * TERMS + b] = matrix[b * TERMS + a];
    const solution = solveSymmetric(matrix, right);
    if (!solution) return 0;
    out.set(solution);
  }
  return count;
}

function polynomial(term: Float64Array, at: number, x: number, y: number): number {
  return term[at] + (term[at + 1] + term[at + 3] * x + term[at + 4] * y) * x + (term[at + 2] + term[at + 5] * y) * y;
}

function valueAt(
  term: Float64Array,
  station: number,
  u: number,
  height: number,
  uc: number,
  half: number,
  stationHeight: number,
): number {
  return polynomial(term, station * TERMS, (u - uc) / half, (height - stationHeight) / HALF_SPAN);
}
