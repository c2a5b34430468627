import * as v from 'valibot';
import { motionAxis, point3, zoneSideSchema } from './place.ts';
import { finiteNumber as num, parametersSchema } from './value.ts';

/** The plan of one part number: sections, zones, limits, uncertainty and decision rule. Millimetres and degrees. */

export const directionSchema = v.picklist(['+X', '-X', '+Y', '-Y']);

/** How a quantity is to be measured; `of` is a path as in a characteristic. */
export const planDefinitionSchema = v.strictObject({
  of: v.string(),
  /** Id of the definition, such as R-LSQ. */
  definition: v.string(),
  parameters: v.optional(parametersSchema),
});
export type PlanDefinition = v.InferOutput<typeof planDefinitionSchema>;

/**
 * A section that is not a plane across Z. Cylinders and cones are about the engine axis and are measured on their
 * development. A cone passes through `radius` at the axial place `at`; its radius grows along the axis by
 * tan(halfAngleDeg).
 */
export const planCutSchema = v.variant('kind', [
  v.strictObject({ kind: v.literal('plane'), id: v.string(), point: point3, normal: point3 }),
  v.strictObject({ kind: v.literal('cylinder'), id: v.string(), radius: num }),
  v.strictObject({ kind: v.literal('cone'), id: v.string(), radius: num, at: num, halfAngleDeg: num }),
]);
export type PlanCut = v.InferOutput<typeof planCutSchema>;

/** How probed points are to be read; what is absent is taken from the file. */
export const planProbeSchema = v.strictObject({
  /** Centres of the probe's ball, or points already moved from there onto the part. */
  points: v.optional(v.picklist(['centres', 'compensated'])),
  /** Radius of the probe's ball (mm). */
  tipRadius: v.optional(num),
});

const limits = {
  /** Requirement; absent means: the nominal blade's own value. */
  nominal: v.optional(num),
  /** Lower and upper limit, absolute. Either may be absent (one-sided). */
  lower: v.optional(num),
  upper: v.optional(num),
  /** Limits as amounts from the nominal value; `minus` is given as a positive amount below it. */
  plus: v.optional(num),
  minus: v.optional(num),
};

export const planCharacteristicSchema = v.strictObject({
  /** Number on the drawing; absent: counted on. */
  number: v.optional(num),
  /** Path of the value in a section result, such as `chordFar`, `leadingEdge.radiusFit`, `twistFitDeg`, or `bow`. */
  of: v.string(),
  name: v.optional(v.string()),
  /** Set-back (mm) or fraction, where the quantity is a list. */
  at: v.optional(num),
  /** How it is measured; absent: as `definitions` say, else the quantity's own definition. */
  definition: v.optional(v.string()),
  parameters: v.optional(parametersSchema),
  /** Section ids it applies to; absent means all. */
  sections: v.optional(v.array(v.string())),
  ...limits,
});
export type PlanCharacteristic = v.InferOutput<typeof planCharacteristicSchema>;

/** A zone of the surface by side and height; profile limits may be unequal. */
export const planZoneSchema = v.strictObject({
  name: v.string(),
  side: zoneSideSchema,
  /** Heights (mm); absent means the whole span. */
  from: v.optional(num),
  to: v.optional(num),
  /** Outside material allowed (mm, positive) and missing material allowed (mm, positive amount). */
  plus: num,
  minus: num,
});
export type PlanZone = v.InferOutput<typeof planZoneSchema>;

const range = v.tuple([num, num]);

/** What a blank is held against before finishing. Lengths in mm. */
export const planStockSchema = v.strictObject({
  /** Depth of metal changed by forging or heat that must come off, and least chip a cutter takes. */
  affectedLayer: v.optional(num),
  minimumChip: v.optional(num),
  /** Scatter of locating the part in the fixture, added to the least stock wanted. */
  locating: v.optional(num),
  /** Times the standard uncertainty of the stock that is added too; absent: 2. */
  factor: v.optional(num),
  /** Most stock allowed; absent: no limit. */
  most: v.optional(num),
  /** Zones with their own wants; absent: those of the profile, else the four sides of the blade. */
  zones: v.optional(
    v.array(
      v.strictObject({
        name: v.string(),
        side: zoneSideSchema,
        from: v.optional(num),
        to: v.optional(num),
        /** Least stock wanted, uncertainty not included; absent: the sum of layer, chip and locating. */
        least: v.optional(num),
        most: v.optional(num),
        /** Share of the spare stock; absent: 1. */
        weight: v.optional(num),
      }),
    ),
  ),
  /** Motions the machine allows from the blank's own position: mm, and degrees about the axes. */
  ranges: v.optional(
    v.strictObject({
      x: v.optional(range),
      y: v.optional(range),
      z: v.optional(range),
      rx: v.optional(range),
      ry: v.optional(range),
      rz: v.optional(range),
    }),
  ),
  locks: v.optional(v.array(motionAxis)),
  /** Waves and slope up to which a flank may stay as forged. */
  asForged: v.optional(
    v.strictObject({
      /** Most height of the waves (mm). */
      waviness: v.optional(num),
      /** Most slope of the deviation along the surface, such as 0.01 for 1 in 100. */
      slope: v.optional(num),
    }),
  ),
});
export type PlanStock = v.InferOutput<typeof planStockSchema>;

/** A place that locates the part: the measured surface touches it along the normal. */
export const planDatumTargetSchema = v.strictObject({
  id: v.string(),
  point: point3,
  /** Outward normal of the part there. */
  normal: point3,
  /** Radius of a ball that touches (mm); absent: a point. */
  ball: v.optional(num),
  /** Standard uncertainty of the contact (mm); absent: 0. */
  u: v.optional(num),
});
export type PlanDatumTarget = v.InferOutput<typeof planDatumTargetSchema>;

/** How values for the control are written. */
export const planOffsetSchema = v.strictObject({
  /** What the control moves: the part (its table), or the programme. */
  moves: v.optional(v.picklist(['part', 'programme'])),
  order: v.optional(v.picklist(['RzRyRx', 'RxRyRz'])),
  pivot: v.optional(point3),
  checkPoint: v.optional(point3),
});

/** Form of an edge built between two flanks. */
export const adaptFormSchema = v.picklist(['ellipse', 'circle', 'conic', 'nominal']);
export type AdaptForm = v.InferOutput<typeof adaptFormSchema>;

/** Tangent (G1) or curvature (G2) continuous at the junctions. */
export const continuitySchema = v.picklist(['G1', 'G2']);
export type Continuity = v.InferOutput<typeof continuitySchema>;

/** How edges are adapted to flanks that stay as forged. Lengths in mm. */
export const planAdaptSchema = v.strictObject({
  form: v.optional(adaptFormSchema),
  /** Length of the ellipse over its width. */
  ratio: v.optional(num),
  continuity: v.optional(continuitySchema),
  /** Least and most set-back of the junctions from the nose. */
  setback: v.optional(range),
  /** Length over which a mismatch to the flank is faded. */
  blend: v.optional(num),
  /** Most slope of that blend, such as 0.02 for 1 in 50. */
  slope: v.optional(num),
  /** Flanks that stay as forged; the others are cut to nominal. */
  flanks: v.optional(v.picklist(['as-forged', 'nominal'])),
  /** Where the nose line comes from: the datum frame or the actual opposite edge. */
  noseFrom: v.optional(v.picklist(['datum', 'opposite-edge'])),
});
export type PlanAdapt = v.InferOutput<typeof planAdaptSchema>;

export const planSchema = v.strictObject({
  $schema: v.optional(v.string()),
  schema: v.literal('camberwright/plan'),
  schemaVersion: v.literal(1),
  part: v.optional(
    v.strictObject({ number: v.optional(v.string()), name: v.optional(v.string()), issue: v.optional(v.string()) }),
  ),
  serial: v.optional(v.string()),
  /** Which way the leading edge points; absent means -X. */
  leadingEdgeTowards: v.optional(directionSchema),
  sections: v.optional(
    v.strictObject({
      heights: v.optional(v.array(num)),
      ids: v.optional(v.array(v.string())),
      /** Sections beside those at heights. */
      cuts: v.optional(v.array(planCutSchema)),
    }),
  ),
  /** Engine axis in the part frame (any point on it, direction) and number of blades round it. */
  engine: v.optional(v.strictObject({ point: point3, direction: point3, blades: v.optional(num) })),
  /** Drawing conventions for whole quantities. */
  definitions: v.optional(v.array(planDefinitionSchema)),
  /** Set-back of the edge zones from the nose (mm); absent: 5 % of chord, at least 3 nominal edge radii. */
  edgeZone: v.optional(num),
  setbacks: v.optional(v.array(num)),
  zones: v.optional(v.array(planZoneSchema)),
  characteristics: v.optional(v.array(planCharacteristicSchema)),
  probe: v.optional(planProbeSchema),
  uncertainty: v.optional(
    v.strictObject({
      /** Standard uncertainty of the equipment at a point (mm, k = 1), added in quadrature; 0 when absent. */
      equipment: v.optional(num),
      /** Standard uncertainty of the probe's tip radius (mm). */
      tipRadius: v.optional(num),
      /** Thermal expansion of the part (1/K) and standard uncertainty of its temperature (K). */
      temperature: v.optional(v.strictObject({ expansion: num, u: num })),
    }),
  ),
  decision: v.optional(
    v.strictObject({
      /** 'guarded': limits moved in by g = factor × u. 'simple': value against limit. */
      rule: v.picklist(['guarded', 'simple']),
      factor: v.optional(num),
    }),
  ),
  /** Datum features named by the drawing; while no datum fit is made, what depends on position is not proven. */
  datums: v.optional(v.array(v.string())),
  /** Six places of the nest the part is located by, three, two and one. */
  datumTargets: v.optional(v.pipe(v.array(planDatumTargetSchema), v.length(6))),
  stock: v.optional(planStockSchema),
  offset: v.optional(planOffsetSchema),
  adapt: v.optional(planAdaptSchema),
  /** Least share of a zone or section that must be measured for a verdict, 0 … 1. */
  minCoverage: v.optional(num),
  pivot: v.optional(point3),
});
export type Plan = v.InferOutput<typeof planSchema>;
