import * as v from 'valibot';
import { placedValueSchema as placedValue, verdictSchema as verdict } from './place.ts';
import { adaptFormSchema, continuitySchema } from './plan.ts';
import { finiteNumber as num, valueSchema } from './value.ts';

/** The part of the results that tells of a finished blade adapted to a blank. Millimetres and degrees. */

const V = valueSchema;

/** One edge built between two flanks that stay as forged. */
const adaptedEdgeSchema = v.strictObject({
  edge: v.picklist(['leading-edge', 'trailing-edge']),
  form: adaptFormSchema,
  continuity: continuitySchema,
  /** Length of the edge over its half width: a / b of the ellipse. */
  ratio: V,
  /** Distance of the junctions from the nose line (mm). */
  setbacks: v.nullable(v.strictObject({ suction: num, pressure: num })),
  noseRadius: V,
  /** Nose against the extended line of centres of the flanks, across it (mm). */
  noseOffset: V,
  thicknessAt: v.array(v.strictObject({ setback: num, nominal: v.nullable(num), ...valueSchema.entries })),
  /** Largest break of the tangent at the junctions (degrees). */
  tangentBreakDeg: v.nullable(num),
  /** True when the curvature rises from either junction to one greatest place and nowhere turns concave. */
  curvatureMonotone: v.nullable(v.boolean()),
  verdict,
  reason: v.optional(v.string()),
});
export type AdaptedEdge = v.InferOutput<typeof adaptedEdgeSchema>;

const adaptedSectionSchema = v.strictObject({
  id: v.string(),
  height: num,
  chord: V,
  edges: v.array(adaptedEdgeSchema),
  verdict,
  reason: v.optional(v.string()),
});
export type AdaptedSection = v.InferOutput<typeof adaptedSectionSchema>;

/** One check of an adapted blade; `where` names the section or zone that decides it. */
const adaptCheckSchema = v.strictObject({
  id: v.picklist([
    'chord',
    'edge-thickness',
    'tangent-break',
    'curvature',
    'concavity',
    'nose-place',
    'setback',
    'profile',
    'stock',
    'span',
    'blend',
    'coverage',
  ]),
  name: v.string(),
  value: v.nullable(num),
  limit: v.nullable(num),
  unit: v.string(),
  verdict,
  where: v.nullable(v.string()),
});
export type AdaptCheck = v.InferOutput<typeof adaptCheckSchema>;

export const adaptSchema = v.strictObject({
  verdict,
  /** What was adapted: the edges, or the whole blade by an offset field. */
  method: v.picklist(['edges', 'offset-field']),
  /** Whether each flank stays as forged, and why not. */
  flanks: v.array(v.strictObject({ side: v.picklist(['suction', 'pressure']), kept: v.boolean(), reason: v.string() })),
  sections: v.array(adaptedSectionSchema),
  checks: v.array(adaptCheckSchema),
  /** Where the adapted blade departs from the nominal; null when there is none. */
  departs: v.nullable(
    v.strictObject({
      most: placedValue,
      least: placedValue,
      /** Area that departs by more than 10 µm (mm²). */
      areaMm2: num,
    }),
  ),
  refusedReason: v.optional(v.string()),
});
export type Adapt = v.InferOutput<typeof adaptSchema>;
