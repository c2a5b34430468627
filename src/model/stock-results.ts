import * as v from 'valibot';
import {
  matrix4,
  motionAxis,
  placedValueSchema as placedValue,
  placementMethodSchema,
  placeSchema,
  point3,
  verdictSchema,
  zoneReachSchema,
} from './place.ts';
import { finiteNumber as num, valueSchema } from './value.ts';

/** The part of the results that tells of a blank's stock and its placement. Millimetres and degrees. */

const V = valueSchema;

/** Whether a flank or zone may stay as forged. */
const asForged = v.strictObject({
  verdict: verdictSchema,
  reason: v.string(),
});

export const stockZoneSchema = v.strictObject({
  zone: v.string(),
  reach: zoneReachSchema,
  /** Least stock wanted and most allowed. */
  wanted: v.strictObject({ least: num, most: v.nullable(num) }),
  least: placedValue,
  most: placedValue,
  mean: V,
  percentiles: v.nullable(v.strictObject({ p5: num, p50: num, p95: num })),
  /** Share of the measured area with less than wanted, 0 … 1. */
  shortFraction: v.nullable(num),
  coverage: num,
  areaMm2: num,
  volumeMm3: V,
  verdict: verdictSchema,
  reason: v.optional(v.string()),
  asForged,
});
export type StockZoneResult = v.InferOutput<typeof stockZoneSchema>;

/** A connected area with less stock than wanted. */
export const shortAreaSchema = v.strictObject({
  /** `thin`: less than wanted; `within-band`: no stock, but inside the lower profile limit; `lack`: outside it. */
  kind: v.picklist(['thin', 'within-band', 'lack']),
  place: placeSchema,
  areaMm2: num,
  least: V,
  /** Largest shortfall against what is wanted, positive (mm). */
  depth: num,
  fromHeight: num,
  toHeight: num,
  zone: v.string(),
});
export type ShortArea = v.InferOutput<typeof shortAreaSchema>;

/** A place that holds a placement, with its share of the hold (weights sum to 1). */
export const heldBySchema = v.strictObject({
  place: placeSchema,
  zone: v.string(),
  weight: num,
  /** The limit that holds: too little or too much stock. */
  limit: v.picklist(['least', 'most']),
  stock: num,
});
export type HeldBy = v.InferOutput<typeof heldBySchema>;

/** What is written into a control, and the point that proves it. */
export const offsetSchema = v.strictObject({
  moves: v.picklist(['part', 'programme']),
  order: v.string(),
  pivot: point3,
  translation: point3,
  rotationDeg: point3,
  /** A point before and after the motion: touch there and expect it. */
  checkPoint: v.strictObject({ before: point3, after: point3 }),
});
export type Offset = v.InferOutput<typeof offsetSchema>;

const curve = v.strictObject({
  axis: motionAxis,
  now: num,
  best: num,
  /** Values of the axis about the pivot (mm, degrees) and the least spare stock there with the other axes held (mm). */
  values: v.array(num),
  spare: v.array(num),
});
export type SpareCurve = v.InferOutput<typeof curve>;

export const stockPlacementSchema = v.strictObject({
  method: placementMethodSchema,
  /** Row-major 4 × 4, measured → nominal. */
  matrix: matrix4,
  /** Least of (stock − wanted) / weight over the measured surface; negative: short by that much. */
  spare: V,
  heldBy: v.array(heldBySchema),
  /** Largest spare of each level when stock was shared, the tightest first. */
  levels: v.array(v.strictObject({ zone: v.string(), spare: num })),
  /** Axes that a lock or an allowed range holds while stock is shared. */
  heldAxes: v.optional(v.array(motionAxis)),
  iterations: num,
  converged: v.boolean(),
  curves: v.array(curve),
});
export type StockPlacement = v.InferOutput<typeof stockPlacementSchema>;

export const datumTargetResultSchema = v.strictObject({
  id: v.string(),
  point: point3,
  normal: point3,
  residual: num,
  /** Standard uncertainty of the target (mm). */
  u: num,
});

export const datumSchema = v.strictObject({
  targets: v.array(datumTargetResultSchema),
  /** Condition of the six rows, lengths over the targets' spread. */
  condition: num,
  /** Standard uncertainty of the placement: shift (mm) and rotation (degrees) about x, y, z. */
  uShift: point3,
  uRotationDeg: point3,
  /** Largest growth of a target's uncertainty over the surface, and where. */
  amplification: v.strictObject({ factor: num, place: v.nullable(placeSchema) }),
});
export type DatumResult = v.InferOutput<typeof datumSchema>;

export const stockSchema = v.strictObject({
  /** What the least stock wanted is made of (mm). */
  wanted: v.strictObject({
    affectedLayer: num,
    minimumChip: num,
    locating: num,
    /** Times the standard uncertainty of a cell. */
    factor: num,
  }),
  least: placedValue,
  most: placedValue,
  mean: V,
  coverage: num,
  classes: v.strictObject({
    enoughMm2: num,
    thinMm2: num,
    withinBandMm2: num,
    lackMm2: num,
    notMeasuredMm2: num,
  }),
  areas: v.array(shortAreaSchema),
  volumeMm3: V,
  zones: v.array(stockZoneSchema),
  placement: stockPlacementSchema,
  /** The placement that shares stock evenly, where another one is in use. */
  better: v.nullable(stockPlacementSchema),
  datum: v.optional(datumSchema),
  offsets: v.array(offsetSchema),
});
export type Stock = v.InferOutput<typeof stockSchema>;
