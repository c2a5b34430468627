import * as v from 'valibot';
import { adaptSchema } from './adapt-results.ts';
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
import { stockSchema } from './stock-results.ts';
import { finiteNumber as num, parametersSchema, valueSchema } from './value.ts';

/** The results document: one JSON file, the same from app, command line and library. Lengths in mm, angles in degrees. */

export type { Place, PlacedValue, Side, Verdict } from './place.ts';

const V = valueSchema;

const edgeFault = v.strictObject({ code: v.string(), message: v.string() });

export const edgeMeasuresSchema = v.strictObject({
  pointX: V,
  pointY: V,
  /** 1 / curvature at the nose, R-OSC. */
  radiusNose: V,
  /** Least-squares circle over ±60° of normal direction, R-LSQ. */
  radiusFit: V,
  ellipseA: V,
  ellipseB: V,
  /** b²/a of the ellipse. */
  ellipseNoseRadius: V,
  thicknessAt: v.array(v.strictObject({ setback: num, ...valueSchema.entries })),
  fullness: V,
  flatLength: V,
  asymmetry: V,
  /** Change of size or form against the nominal edge (FORM) and its kind; absent without a nominal. */
  form: v.optional(
    v.strictObject({
      ...valueSchema.entries,
      kind: v.nullable(v.picklist(['as nominal', 'larger', 'smaller', 'blunt', 'pointed', 'flat', 'asymmetric'])),
    }),
  ),
  faults: v.array(edgeFault),
});
export type EdgeMeasures = v.InferOutput<typeof edgeMeasuresSchema>;

/** Everything measured on one section outline. */
export const sectionMeasuresSchema = v.strictObject({
  chordFar: V,
  chordBitangent: V,
  chordAxial: V,
  chordCamber: V,
  staggerFarDeg: V,
  staggerBitangentDeg: V,
  staggerCamberDeg: V,
  /** Largest inscribed circle; `at` is its centre's fraction of the line of centres. */
  thicknessMax: v.strictObject({ ...valueSchema.entries, at: v.nullable(num) }),
  /** That fraction as a value of its own, T-POS. */
  thicknessPlace: v.optional(V),
  thicknessAt: v.array(v.strictObject({ fraction: num, ...valueSchema.entries })),
  area: V,
  perimeter: V,
  centroidX: V,
  centroidY: V,
  principalAxisDeg: V,
  /** Second moments about the centroid, along the axes and principal (least and greatest), mm⁴. */
  ixx: v.optional(V),
  iyy: v.optional(V),
  ixy: v.optional(V),
  i1: v.optional(V),
  i2: v.optional(V),
  camberAngleDeg: V,
  metalAngleLeadingDeg: V,
  metalAngleTrailingDeg: V,
  camberMax: V,
  leadingEdge: edgeMeasuresSchema,
  trailingEdge: edgeMeasuresSchema,
});
export type SectionMeasures = v.InferOutput<typeof sectionMeasuresSchema>;

/** Drawn outline: closed polyline of points (mm), counter-clockwise seen from the tip, starting at the leading edge. */
const polyline = v.strictObject({
  x: v.array(num),
  y: v.array(num),
  /** mm from the leading edge along the outline, suction side negative. */
  along: v.array(num),
});
export type Polyline = v.InferOutput<typeof polyline>;

/** A quantity measured by a chosen definition, on the nominal and on the measured outline. */
export const askedSchema = v.strictObject({
  of: v.string(),
  at: v.optional(num),
  definition: v.string(),
  parameters: parametersSchema,
  nominal: v.nullable(V),
  measured: v.nullable(V),
});
export type Asked = v.InferOutput<typeof askedSchema>;

/** A local defect found in the measured points, with its place and size (mm). */
export const faultSchema = v.strictObject({
  kind: v.picklist(['nick', 'bump', 'flat']),
  place: placeSchema,
  /** Largest departure from the surface round it, positive outward; for a flat its sagitta. */
  depth: num,
  /** Standard uncertainty of the depth. */
  u: v.nullable(num),
  /** Extent along the outline and along the span. */
  width: num,
  length: num,
  points: num,
  message: v.string(),
});
export type Fault = v.InferOutput<typeof faultSchema>;

/** How a further pass over a section differs from its first, in one zone of the outline. */
export const scanDifferenceSchema = v.strictObject({
  section: v.string(),
  /** Number of the further pass, from 2. */
  pass: num,
  zone: v.picklist(['leading-edge', 'trailing-edge', 'suction', 'pressure']),
  /** Mean distance of the further pass from the first along the outward normal. */
  difference: V,
  /** Shift of an edge along the outline, counter-clockwise; not applicable on a flank. */
  lag: V,
});
export type ScanDifference = v.InferOutput<typeof scanDifferenceSchema>;

/** The surface of a section that is no plane across Z; its coordinates are those of the development. */
export const sectionCutSchema = v.variant('kind', [
  v.strictObject({ kind: v.literal('plane'), point: point3, normal: point3, text: v.string() }),
  v.strictObject({ kind: v.literal('cylinder'), radius: num, text: v.string() }),
  v.strictObject({ kind: v.literal('cone'), radius: num, at: num, halfAngleDeg: num, text: v.string() }),
]);

const edgeProfile = v.strictObject({ datum: V, local: V });

/** Waves of a flank between the cut-offs, from the leading towards the trailing edge (null = not measured). */
const waves = v.strictObject({ along: v.array(num), waves: v.array(v.nullable(num)) });

export const sectionResultSchema = v.strictObject({
  id: v.string(),
  /** Height (mm); of a section that is no plane across Z, where the stacking axis meets it. */
  height: num,
  cut: v.optional(sectionCutSchema),
  /** Share of the nominal outline with measured points near enough, 0 … 1. */
  coverage: v.nullable(num),
  nominal: v.optional(sectionMeasuresSchema),
  measured: v.optional(sectionMeasuresSchema),
  twistFitDeg: v.optional(V),
  twistChordDeg: v.optional(V),
  displacementX: v.optional(V),
  displacementY: v.optional(V),
  /** Shift of the pivot by the middle of the line of centres, which form faults of edges leave in place. */
  displacementCamberX: v.optional(V),
  displacementCamberY: v.optional(V),
  /** That shift along the nominal chord, towards the trailing edge, and normal to it, towards the suction side. */
  displacementChord: v.optional(V),
  displacementNormal: v.optional(V),
  /** Height of the waves on either flank, WAVE-PV. */
  waviness: v.optional(v.strictObject({ suction: V, pressure: V })),
  /** Profile of either edge as placed and after a fit of its own. */
  edgeProfile: v.optional(v.strictObject({ leading: edgeProfile, trailing: edgeProfile })),
  /** What the plan or the user asks for by a definition of their choice. */
  asked: v.optional(v.array(askedSchema)),
  /** For the plots: outlines, camber lines, and the deviation along the nominal outline (null = not measured). */
  plot: v.optional(
    v.strictObject({
      nominal: v.nullable(polyline),
      measured: v.nullable(polyline),
      camber: v.nullable(v.strictObject({ x: v.array(num), y: v.array(num), radius: v.array(num) })),
      along: v.array(num),
      deviation: v.array(v.nullable(num)),
      u: v.array(v.nullable(num)),
      /** Curvature of the outline (1/mm, convex positive) with its standard uncertainty; null = not measured. */
      curvature: v.optional(
        v.strictObject({ along: v.array(num), value: v.array(v.nullable(num)), u: v.array(v.nullable(num)) }),
      ),
      /** Diameter of the inscribed circles (mm) over the fraction of the line of centres. */
      thickness: v.optional(
        v.strictObject({
          at: v.array(num),
          value: v.array(num),
          nominal: v.nullable(v.strictObject({ at: v.array(num), value: v.array(num) })),
        }),
      ),
      /** Waves of both flanks, the suction side at negative positions. */
      waviness: v.optional(v.strictObject({ suction: waves, pressure: waves })),
    }),
  ),
});
export type SectionResult = v.InferOutput<typeof sectionResultSchema>;

export const inputSchema = v.strictObject({
  name: v.string(),
  sha256: v.string(),
  format: v.string(),
  unit: v.string(),
  points: v.optional(num),
  triangles: v.optional(num),
  /** What the file says of its probed points. */
  probe: v.optional(
    v.strictObject({ points: v.optional(v.picklist(['centres', 'compensated'])), tipRadius: v.optional(num) }),
  ),
  box: v.strictObject({ min: point3, max: point3 }),
});
export type InputRecord = v.InferOutput<typeof inputSchema>;

export const alignmentSchema = v.strictObject({
  method: placementMethodSchema,
  /** Row-major 4 × 4, measured → nominal. */
  matrix: matrix4,
  pivot: point3,
  /** Translation at the pivot (mm) and rotations (degrees) in `rotationOrder`. */
  translation: point3,
  rotationDeg: point3,
  rotationOrder: v.string(),
  /** The same rotation read in the other order, and the inverse (moves the programme instead of the part). */
  otherReading: v.strictObject({ rotationDeg: point3, rotationOrder: v.string() }),
  inverse: v.strictObject({ translation: point3, rotationDeg: point3, rotationOrder: v.string() }),
  locks: v.array(motionAxis),
  residual: v.strictObject({ rms: num, mean: num, max: num, count: num }),
  /** The six plays (1 sigma, mm) with their unit motions [vx, vy, vz, wx·L, wy·L, wz·L], weakest first. */
  plays: v.array(v.strictObject({ motion: v.pipe(v.array(num), v.length(6)), play: num, weak: v.boolean() })),
  iterations: num,
  converged: v.boolean(),
  leftOut: v.strictObject({ count: num, reasons: v.record(v.string(), num) }),
  /** 'proper' or 'mirrored' (the measured part fits as its mirror image; accepted knowingly). */
  handedness: v.picklist(['proper', 'mirrored']),
  /** Residual of the best rival placement over that of the chosen one, in whole times, at most 10; large is safe. */
  rivalRatio: v.nullable(num),
});
export type Alignment = v.InferOutput<typeof alignmentSchema>;

const nullable = v.array(v.array(v.nullable(num)));

export const deviationMapSchema = v.strictObject({
  heights: v.array(num),
  /** Position of each cell (mm from the leading edge, suction side negative), a row a height. */
  along: v.array(v.array(num)),
  deviation: nullable,
  u: nullable,
});
export type DeviationMap = v.InferOutput<typeof deviationMapSchema>;

export const zoneDeviationSchema = v.strictObject({
  zone: v.string(),
  least: placedValue,
  most: placedValue,
  profileValue: V,
  /** Standard uncertainty (k = 1) of the zone value by source; their root sum of squares is its `u`. */
  budget: v.optional(v.record(v.string(), num)),
  coverage: num,
  verdict: verdictSchema,
  /** Limits the verdict is held against (mm), null where the plan gives none. */
  lower: v.nullable(num),
  upper: v.nullable(num),
  reason: v.optional(v.string()),
  reach: v.optional(zoneReachSchema),
});
export type ZoneDeviation = v.InferOutput<typeof zoneDeviationSchema>;

export const deviationSchema = v.strictObject({
  count: num,
  min: num,
  max: num,
  mean: num,
  rms: num,
  percentiles: v.strictObject({ p1: num, p5: num, p50: num, p95: num, p99: num }),
  /** Measured share of the nominal area, 0 … 1. */
  coverage: num,
  /** Standard deviation of one point along the normal, found in the data (mm). */
  noise: num,
  outliers: v.strictObject({ count: num, listed: v.array(v.strictObject({ place: placeSchema, deviation: num })) }),
  zones: v.array(zoneDeviationSchema),
});
export type Deviation = v.InferOutput<typeof deviationSchema>;

export const characteristicSchema = v.strictObject({
  id: v.string(),
  number: num,
  name: v.string(),
  section: v.nullable(v.string()),
  /** Path of the quantity, as in a plan. */
  of: v.string(),
  at: v.optional(num),
  /** Id of the definition it was measured by; '–' stands only where there was nothing to measure. */
  definition: v.pipe(v.string(), v.minLength(1)),
  parameters: v.optional(parametersSchema),
  evidence: valueSchema.entries.evidence,
  /** Standard uncertainty (k = 1) by source, in the unit of the value; their root sum of squares is `u`. */
  budget: v.optional(v.record(v.string(), num)),
  requirement: v.strictObject({
    nominal: v.nullable(num),
    lower: v.nullable(num),
    upper: v.nullable(num),
    unit: v.string(),
  }),
  value: v.nullable(num),
  /** Standard uncertainty (k = 1). */
  u: v.nullable(num),
  deviation: v.nullable(num),
  /** Amount beyond the limit, sign kept; 0 inside; null when not measured or no limit. */
  outOfTolerance: v.nullable(num),
  verdict: verdictSchema,
  /** Alignment the value stands on, such as 'best-fit', or 'none' where it does not depend on position. */
  alignment: v.string(),
  coverage: v.nullable(num),
  reason: v.optional(v.string()),
});
export type Characteristic = v.InferOutput<typeof characteristicSchema>;

export const trendsSchema = v.strictObject({
  /** Bow from the line chosen by `bowReference`, and from either line. */
  bow: V,
  bowReference: v.string(),
  bowEnd: v.optional(V),
  bowLsq: v.optional(V),
  /** What carries the displacement: rigid fit, or mid camber line. */
  basis: v.optional(v.string()),
  /** Slopes of the shift along the chord (towards the trailing edge) and normal to it (towards the suction side). */
  sweepChordDeg: v.optional(V),
  dihedralChordDeg: v.optional(V),
  leanDeg: V,
  sweepDeg: V,
  untwistDeg: V,
});
export type Trends = v.InferOutput<typeof trendsSchema>;

const answer = v.strictObject({ text: v.string(), verdict: verdictSchema });
export type Answer = v.InferOutput<typeof answer>;

const warningSchema = v.strictObject({
  code: v.string(),
  message: v.string(),
  where: v.nullable(v.string()),
  remedy: v.nullable(v.string()),
});

export const SCHEMA_VERSION = 1;

export const resultsSchema = v.strictObject({
  $schema: v.string(),
  schema: v.literal('camberwright/results'),
  schemaVersion: v.literal(SCHEMA_VERSION),
  tool: v.strictObject({ name: v.string(), version: v.string() }),
  answers: v.strictObject({
    part: v.optional(answer),
    sections: v.optional(answer),
    stock: v.optional(answer),
    adapt: v.optional(answer),
  }),
  inputs: v.strictObject({
    nominal: v.optional(inputSchema),
    measured: v.optional(v.array(inputSchema)),
    plan: v.optional(v.strictObject({ name: v.string(), sha256: v.string() })),
  }),
  /** Every effective setting, defaults included. */
  settings: v.record(v.string(), v.unknown()),
  alignment: v.optional(alignmentSchema),
  deviation: v.optional(deviationSchema),
  map: v.optional(deviationMapSchema),
  sections: v.array(sectionResultSchema),
  /** Local defects, the deepest first; absent when none were looked for. */
  faults: v.optional(v.array(faultSchema)),
  /** Passes over the same sections compared; absent where every section was passed once. */
  scans: v.optional(v.array(scanDifferenceSchema)),
  trends: v.optional(trendsSchema),
  characteristics: v.optional(v.array(characteristicSchema)),
  /** Stock of a blank; absent for a finished part. */
  stock: v.optional(stockSchema),
  /** The finished blade adapted to a blank; absent where that was not asked for. */
  adapt: v.optional(adaptSchema),
  warnings: v.array(warningSchema),
  /** Seconds by step; kept last and apart so that two runs compare equal without it. */
  timing: v.record(v.string(), num),
});
export type Results = v.InferOutput<typeof resultsSchema>;
