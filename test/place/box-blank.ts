import { apply3, transpose3 } from '../../src/math/rigid.ts';
import type { Pose } from '../../src/model/pose.ts';
import type { StockCells, StockZone } from '../../src/model/stock-cells.ts';

/** Faces of a box: axis and side, the zone each belongs to by its place here. */
const FACES = [
  [1, 1],
  [1, -1],
  [0, 1],
  [0, -1],
  [2, 1],
  [2, -1],
] as const;

export interface BoxBlank {
  /** Half sizes of the finished box and of the blank (mm); a half height of 0 leaves a rectangle in the plane. */
  finished: [number, number, number];
  blank: [number, number, number];
  /** Added to the blank's faces: pairs of face and mm. */
  bulges?: Partial<Record<number, number>>;
  /** Cells along each edge of a face. */
  steps?: number;
  zoneOf?: (face: number) => number;
}

/**
 * Stock on a finished box's faces, in closed form, as a function of the blank's placement: along the normal of a cell to
 * the blank's face that looks the same way. Cells reach the corners.
 */
export function boxField(box: BoxBlank): (pose: Pose) => Promise<StockCells> {
  const { finished, blank, bulges = {}, steps = 9, zoneOf = (face) => face } = box;
  const faces = FACES.filter(([axis]) => finished[axis] > 0);
  return (pose) => {
    const point: number[] = [];
    const normal: number[] = [];
    const stock: number[] = [];
    const zone: number[] = [];
    const inverse = transpose3(pose.rotation);
    faces.forEach(([axis, side], face) => {
      const [first, second] = [(axis + 1) % 3, (axis + 2) % 3];
      // The blank's normal along each axis of the nominal, and its face.
      const facing = apply3(
        pose.rotation,
        [0, 0, 0].map((_, k) => (k === axis ? side : 0)) as [number, number, number],
      );
      for (let i = 0; i < steps; i++) {
        for (let j = 0; j < steps; j++) {
          const p = [0, 0, 0];
          p[axis] = side * finished[axis];
          p[first] = finished[first] * ((2 * i) / (steps - 1) - 1);
          p[second] = finished[second] * ((2 * j) / (steps - 1) - 1);
          const local = apply3(inverse, p.map((value, k) => value - pose.translation[k]) as [number, number, number]);
          const room = blank[axis] + (bulges[face] ?? 0) - side * local[axis];
          point.push(...p);
          normal.push(...[0, 1, 2].map((k) => (k === axis ? side : 0)));
          stock.push(room / (side * facing[axis]));
          zone.push(zoneOf(face));
        }
      }
    });
    const count = stock.length;
    return Promise.resolve({
      count,
      u: new Float64Array(count),
      along: new Float64Array(count),
      height: new Float64Array(count),
      point: Float64Array.from(point),
      normal: Float64Array.from(normal),
      stock: Float64Array.from(stock),
      uStock: new Float64Array(count).fill(0.002),
      area: new Float64Array(count).fill(1),
      points: new Uint32Array(count).fill(100),
      zone: Int16Array.from(zone),
    });
  };
}

/** Zones of the names, no stock wanted, no upper limit. */
export function plainZones(...names: string[]): StockZone[] {
  return names.map((name) => ({ name, least: 0, most: null, weight: 1 }));
}
