/**
 * The public door of the core: reads shapes and plans, runs the main job, writes its results. Needs no DOM. Lengths in
 * mm; deviation positive = material outside nominal.
 */

// Blanks
export { type AdaptedBlank, adaptBlank } from './adapt-blank.ts';
// The main job
export type { Drawing } from './drawing.ts';
// Errors and warnings
export { CamberwrightError, type ErrorCode, EXIT_OF_FAMILY, type Warning } from './error.ts';
export { bladeToBsplines } from './fit/blade-to-bsplines.ts';
// Judge
export type { DefinitionInfo, DefinitionsByPath } from './judge/definition-info.ts';
export { definitionsByPath } from './judge/definitions-by-path.ts';
export { planOf, readPlan } from './judge/read-plan.ts';
// Load
export { type ByteSource, sourceFromBlob, sourceFromBytes } from './load/byte-source.ts';
export type { ReadOptions } from './load/format.ts';
export { readShape } from './load/read-shape.ts';
export { acceptedFormats } from './load/registry.ts';
export { writePly } from './load/write-ply.ts';
export { writeSectionTable } from './load/write-section-table.ts';
export { writeStl } from './load/write-stl.ts';
// Definitions
export type { Definition, ParameterSpec, Quantity } from './measure/definitions/definition.ts';
export { DEFINITIONS, definitionsOf } from './measure/definitions/definitions.ts';
// Records
export type { Progress, RunContext } from './model/context.ts';
export type { Plan, PlanCharacteristic, PlanDefinition, PlanZone } from './model/plan.ts';
export type { Pose } from './model/pose.ts';
export type {
  Alignment,
  Asked,
  Characteristic,
  Deviation,
  DeviationMap,
  Fault,
  Results,
  SectionMeasures,
  SectionResult,
  Verdict,
  ZoneDeviation,
} from './model/results.ts';
export type { Box, Cloud, LengthUnit, LoadedShape, Mesh, SectionPoints, SectionTable, Shape } from './model/shape.ts';
export type { Stock, StockPlacement, StockZoneResult } from './model/stock-results.ts';
export type { Parameters, Status, Value } from './model/value.ts';
export { type InspectInput, type Inspection, inspect, measureShape, type PipelineContext } from './pipeline.ts';
export {
  type EdgeTrace,
  type KeptInspection,
  type MeasuredOne,
  type MeasureOne,
  measureOne,
  redefine,
} from './redefine.ts';
// Report
export { characteristicsCsv } from './report/characteristics-csv.ts';
export { type ReportOptions, reportHtml } from './report/html/report-html.ts';
export { igesText } from './report/iges-write.ts';
export { mapCsv } from './report/map-csv.ts';
export { type ColouredSurface, mapPly } from './report/map-ply.ts';
export { offsetCard, offsetJson } from './report/offset-card.ts';
export { resultsFromJson, resultsToJson } from './report/results-json.ts';
export { type JsonSchema, planJsonSchema, resultsJsonSchema } from './report/results-schema.ts';
export { stepText } from './report/step-write.ts';
export { type BlankPlacement, type BlankReview, placeBlank, reviewBlank } from './review-blank.ts';
export { INSPECT_DEFAULTS, type InspectSettings } from './settings.ts';
