import * as v from 'valibot';
import { finiteNumber as num, valueSchema } from './value.ts';

/** Words and places that plans and every part of the results share. Millimetres. */

export const verdictSchema = v.picklist(['pass', 'fail', 'not-proven', 'not-measured', 'no-limit', 'not-applicable']);
export type Verdict = v.InferOutput<typeof verdictSchema>;

/** A point or vector x, y, z in the blade frame. */
export const point3 = v.tuple([num, num, num]);

/** A motion as a row-major 4 × 4. */
export const matrix4 = v.pipe(v.array(num), v.length(16));

/** The six motions of a rigid part: along the axes, and about them. */
export const motionAxis = v.picklist(['x', 'y', 'z', 'rx', 'ry', 'rz']);

/** How a placement was found; 'given' where a file gave it. */
export const placementMethodSchema = v.picklist(['best-fit', 'share-stock', 'datum', 'given']);
export type PlacementMethod = v.InferOutput<typeof placementMethodSchema>;

export const sideSchema = v.picklist(['suction', 'pressure', 'leading-edge', 'trailing-edge']);
export type Side = v.InferOutput<typeof sideSchema>;

/** What a zone lies on: a side, or all of them. */
export const zoneSideSchema = v.picklist([...sideSchema.options, 'all']);

/** Where a zone lies: side, heights (mm, null = to the end) and how far the edge zones reach from the edges (mm). */
export const zoneReachSchema = v.strictObject({
  side: zoneSideSchema,
  from: v.nullable(num),
  to: v.nullable(num),
  leading: num,
  trailing: num,
});

/** A place on the blade: height and position along the outline (mm from the leading edge, suction side negative). */
export const placeSchema = v.strictObject({ height: num, along: num, side: sideSchema, point: point3 });
export type Place = v.InferOutput<typeof placeSchema>;

/** A measured number with the place it was found at. */
export const placedValueSchema = v.strictObject({ ...valueSchema.entries, place: v.nullable(placeSchema) });
export type PlacedValue = v.InferOutput<typeof placedValueSchema>;
