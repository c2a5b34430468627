import * as v from 'valibot';
import { offsetSchema } from './stock-results.ts';
import { finiteNumber as num } from './value.ts';

/** A work offset as a file of its own, for a post-processor: numbers in full. Millimetres and degrees. */
export const offsetFileSchema = v.strictObject({
  schema: v.literal('camberwright/offset'),
  schemaVersion: v.literal(1),
  unit: v.literal('mm'),
  ...offsetSchema.entries,
  /** The same motion as a row-major 4 × 4: a point before -> the point after. */
  matrix: v.pipe(v.array(num), v.length(16)),
});
export type OffsetFile = v.InferOutput<typeof offsetFileSchema>;
