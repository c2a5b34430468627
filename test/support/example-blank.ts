import * as v from 'valibot';
import { sidesOfRow } from '../../src/judge/map-places.ts';
import { poseToMatrix } from '../../src/math/rigid.ts';
import type { Place, Results, SectionResult } from '../../src/model/results.ts';
import { resultsSchema } from '../../src/model/results.ts';
import type { StockCells, StockZone } from '../../src/model/stock-cells.ts';
import type { ShortArea, Stock, StockPlacement, StockZoneResult } from '../../src/model/stock-results.ts';
import { measured, type Value } from '../../src/model/value.ts';
import { poseAbout, readInverse, readPose } from '../../src/place/pose-readings.ts';
import type { BlankReply } from '../../src/worker/messages.ts';
import { exampleResults } from './example-results.ts';

/** Even stock of the example blank (mm), and how far it was measured to lie from there. */
export const EVEN = 0.62;
export const SHIFT: readonly [number, number, number] = [0.1, 0.4, 0];
/** Stock wanted and allowed in every zone (mm), and the standard uncertainty of a cell. */
export const WANTED = { least: 0.3, most: 2 };
export const U_STOCK = 0.004;
const FACTOR = 2;
const REACH = { leading: 2, trailing: 2 };
const SIDES = ['leading-edge', 'trailing-edge', 'suction', 'pressure'] as const;
const NAMES = ['leading edge', 'trailing edge', 'suction side', 'pressure side'];

/** Outward unit normal of a drawn outline at each of its points, from its neighbours. */
function normals(x: readonly number[], y: readonly number[]): [number, number][] {
  const n = x.length;
  return x.map((_, i) => {
    const [before, after] = [(i + n - 1) % n, (i + 1) % n];
    const [tx, ty] = [x[after] - x[before], y[after] - y[before]];
    const length = Math.hypot(tx, ty);
    return [ty / length, -tx / length];
  });
}

const nearest = (list: readonly number[], at: number): number =>
  list.reduce((best, value, i) => (Math.abs(value - at) < Math.abs(list[best] - at) ? i : best), 0);

/** Cells on the map's own grid; stock = even stock + normal · (shift − back), a plane motion that cleans up exactly. */
function cellsOf(results: Results, back: readonly number[]): StockCells {
  const map = results.map!;
  const columns = map.along[0].length;
  const count = map.heights.length * columns;
  const cells: StockCells = {
    count,
    u: new Float64Array(count),
    along: new Float64Array(count),
    height: new Float64Array(count),
    point: new Float64Array(3 * count),
    normal: new Float64Array(3 * count),
    stock: new Float64Array(count),
    uStock: new Float64Array(count).fill(U_STOCK),
    area: new Float64Array(count),
    points: new Uint32Array(count).fill(120),
    zone: new Int16Array(count),
  };
  map.heights.forEach((height, i) => {
    const section =
      results.sections[
        nearest(
          results.sections.map((s) => s.height),
          height,
        )
      ];
    const line = section.plot!.nominal!;
    const outward = normals(line.x, line.y);
    const sides = sidesOfRow(map.along[i], REACH);
    map.along[i].forEach((along, j) => {
      const k = i * columns + j;
      const at = nearest(line.along, along);
      const [nx, ny] = outward[at];
      cells.u[k] = along;
      cells.along[k] = along;
      cells.height[k] = height;
      cells.point.set([line.x[at], line.y[at], height], 3 * k);
      cells.normal.set([nx, ny, 0], 3 * k);
      const there = map.deviation[i][j] !== null;
      cells.stock[k] = there ? EVEN + nx * (SHIFT[0] + back[0]) + ny * (SHIFT[1] + back[1]) : Number.NaN;
      cells.area[k] = ((map.along[i][j + 1] ?? along + 0.3) - along) * (map.heights[1] - map.heights[0]);
      cells.zone[k] = SIDES.indexOf(sides[j]);
    });
  });
  return cells;
}

const mm = (value: number): Value => measured(value, U_STOCK, 'mm', 'STOCK');

/** The example blank in the best fit, or moved back by some of its shift: 4 zones, short areas, offsets and curves. */
export function exampleBlank(
  back: readonly [number, number, number] = [0, 0, 0],
  method: StockPlacement['method'] = 'best-fit',
): BlankReply {
  const { deviation: _, characteristics: __, trends: ___, faults: ____, ...ground } = exampleResults();
  const cells = cellsOf(exampleResults(), back);
  const zones: StockZone[] = NAMES.map((name) => ({ name, ...WANTED, weight: 1 }));
  const pose = poseAbout(Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1), back, [0, 0, 60]);
  const matrix = poseToMatrix(pose);
  const columns = ground.map!.along[0].length;
  const stockAt = (i: number, j: number): number | null => {
    const value = cells.stock[i * columns + j];
    return Number.isNaN(value) ? null : value;
  };
  const map = {
    ...ground.map!,
    deviation: ground.map!.along.map((row, i) => row.map((__, j) => stockAt(i, j))),
    u: ground.map!.along.map((row, i) => row.map((__, j) => (stockAt(i, j) === null ? null : U_STOCK))),
  };
  const placeOf = (k: number): Place => ({
    height: cells.height[k],
    along: cells.along[k],
    side: SIDES[cells.zone[k]],
    point: [cells.point[3 * k], cells.point[3 * k + 1], cells.point[3 * k + 2]],
  });
  const all = Array.from({ length: cells.count }, (__, k) => k);
  const seen = all.filter((k) => !Number.isNaN(cells.stock[k]));
  const areaOf = (list: readonly number[]): number => list.reduce((sum, k) => sum + cells.area[k], 0);
  const spareAt = (k: number): number => cells.stock[k] - WANTED.least - FACTOR * U_STOCK;
  const lowest = (list: readonly number[]): number => list.reduce((a, b) => (cells.stock[b] < cells.stock[a] ? b : a));
  const highest = (list: readonly number[]): number => list.reduce((a, b) => (cells.stock[b] > cells.stock[a] ? b : a));
  const volume = (list: readonly number[]): number => list.reduce((sum, k) => sum + cells.area[k] * cells.stock[k], 0);
  const percentile = (list: readonly number[], q: number): number =>
    [...list].map((k) => cells.stock[k]).sort((a, b) => a - b)[Math.floor(q * (list.length - 1))];

  const zoneResults = zones.map((zone, z): StockZoneResult => {
    const whole = all.filter((k) => cells.zone[k] === z);
    const list = seen.filter((k) => cells.zone[k] === z);
    const short = list.filter((k) => spareAt(k) < 0);
    const [low, high] = [lowest(list), highest(list)];
    return {
      zone: zone.name,
      reach: { side: SIDES[z], from: null, to: null, ...REACH },
      wanted: { ...WANTED },
      least: { ...mm(cells.stock[low]), place: placeOf(low) },
      most: { ...mm(cells.stock[high]), place: placeOf(high) },
      mean: mm(volume(list) / areaOf(list)),
      percentiles: { p5: percentile(list, 0.05), p50: percentile(list, 0.5), p95: percentile(list, 0.95) },
      shortFraction: areaOf(short) / areaOf(list),
      coverage: areaOf(list) / areaOf(whole),
      areaMm2: areaOf(list),
      volumeMm3: measured(volume(list), 1, 'mm³', 'STOCK-VOL'),
      verdict: short.length > 0 ? 'fail' : 'pass',
      asForged: { verdict: 'fail', reason: 'Stock differs by more than the profile limits allow.' },
    };
  });
  const areas = SIDES.flatMap((__, z): ShortArea[] => {
    const short = seen.filter((k) => cells.zone[k] === z && spareAt(k) < 0);
    if (short.length === 0) return [];
    const low = lowest(short);
    return [
      {
        kind: cells.stock[low] < 0 ? 'lack' : 'thin',
        place: placeOf(low),
        areaMm2: areaOf(short),
        least: mm(cells.stock[low]),
        depth: -spareAt(low),
        fromHeight: Math.min(...short.map((k) => cells.height[k])),
        toHeight: Math.max(...short.map((k) => cells.height[k])),
        zone: NAMES[z],
      },
    ];
  }).sort((a, b) => b.depth - a.depth);
  const low = lowest(seen);
  const placement = (by: readonly number[], which: StockPlacement['method'], spare: number): StockPlacement => ({
    method: which,
    matrix: poseToMatrix(poseAbout(Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1), by, [0, 0, 60])),
    spare: mm(spare),
    heldBy: [{ place: placeOf(low), zone: NAMES[cells.zone[low]], weight: 1, limit: 'least', stock: cells.stock[low] }],
    levels: zones.map((zone) => ({ zone: zone.name, spare })),
    iterations: 4,
    converged: true,
    curves: [],
  });
  const reading = readPose(pose, [0, 0, 60], 'RzRyRx');
  const inverse = readInverse(pose, [0, 0, 60], 'RzRyRx');
  const short = areas.length > 0;
  const stock: Stock = {
    wanted: { affectedLayer: 0.2, minimumChip: 0.1, locating: 0, factor: FACTOR },
    least: { ...mm(cells.stock[low]), place: placeOf(low) },
    most: { ...mm(cells.stock[highest(seen)]), place: placeOf(highest(seen)) },
    mean: mm(volume(seen) / areaOf(seen)),
    coverage: areaOf(seen) / areaOf(all),
    classes: {
      enoughMm2: areaOf(seen.filter((k) => spareAt(k) >= 0)),
      thinMm2: areaOf(seen.filter((k) => spareAt(k) < 0 && cells.stock[k] > 0)),
      withinBandMm2: 0,
      lackMm2: areaOf(seen.filter((k) => cells.stock[k] <= 0)),
      notMeasuredMm2: areaOf(all) - areaOf(seen),
    },
    areas,
    volumeMm3: measured(volume(seen), 2, 'mm³', 'STOCK-VOL'),
    zones: zoneResults,
    placement: placement(back, method, spareAt(low)),
    better: short ? placement([-SHIFT[0], -SHIFT[1], 0], 'share-stock', EVEN - WANTED.least - FACTOR * U_STOCK) : null,
    offsets: (['part', 'programme'] as const).flatMap((moves) =>
      (['RzRyRx', 'RxRyRz'] as const).map((order) => ({
        moves,
        order,
        pivot: [0, 0, 60] as [number, number, number],
        translation: (moves === 'part' ? reading : inverse).translation,
        rotationDeg: (moves === 'part' ? reading : inverse).rotationDeg,
        checkPoint: {
          before: [12, -4, 38.5] as [number, number, number],
          after: [12 + back[0], -4 + back[1], 38.5] as [number, number, number],
        },
      })),
    ),
  };
  const sections = ground.sections.map((section): SectionResult => {
    const row = nearest(map.heights, section.height);
    const value = map.deviation[row];
    return {
      id: section.id,
      height: map.heights[row],
      coverage: section.coverage,
      ...(section.nominal ? { nominal: section.nominal } : {}),
      plot: {
        ...section.plot!,
        along: map.along[row],
        deviation: value,
        u: value.map((d) => (d === null ? null : U_STOCK)),
      },
    };
  });
  const results: Results = {
    ...ground,
    answers: {
      stock: {
        text: short
          ? `Not yet: ${areas.length} areas short of stock. Least ${stock.least.value!.toFixed(2)} mm at ${cells.height[low].toFixed(1)} mm height.`
          : `Cleans up everywhere with ${spareAt(low).toFixed(2)} mm to spare.`,
        verdict: short ? 'fail' : 'pass',
      },
    },
    alignment: {
      ...ground.alignment!,
      method,
      matrix,
      pivot: [0, 0, 60],
      ...reading,
      otherReading: { rotationDeg: readPose(pose, [0, 0, 60], 'RxRyRz').rotationDeg, rotationOrder: 'RxRyRz' },
      inverse,
    },
    map,
    sections,
    stock,
  };
  const drawing = drawingFrom(cells, map.heights.length, columns);
  const origin = [...reading.translation, ...reading.rotationDeg];
  return { results: v.parse(resultsSchema, results), drawing, cells, zones, origin };
}

/** A strip of triangles over the cells, for the 3D view. */
function drawingFrom(cells: StockCells, rows: number, columns: number): BlankReply['drawing'] {
  const triangles: number[] = [];
  for (let i = 0; i + 1 < rows; i++)
    for (let j = 0; j + 1 < columns; j++) {
      const k = i * columns + j;
      triangles.push(k, k + 1, k + columns, k + 1, k + columns + 1, k + columns);
    }
  return {
    positions: Float32Array.from(cells.point),
    normals: Float32Array.from(cells.normal),
    triangles: Uint32Array.from(triangles),
    along: Float32Array.from(cells.along),
    height: Float32Array.from(cells.height),
    deviation: Float32Array.from(cells.stock),
  };
}
