import type { AdaptMethod } from '../adapt-blank.ts';
import type { AdaptedFile } from '../adapted-files.ts';
import type { Warning } from '../error.ts';
import type { DefinitionsByPath } from '../judge/definition-info.ts';
import type { BlankPlacement } from '../kept-blank.ts';
import type { StreamableBlob } from '../load/byte-source.ts';
import type { Adapt } from '../model/adapt-results.ts';
import type { Progress } from '../model/context.ts';
import type { Plan, PlanDefinition } from '../model/plan.ts';
import type { Answer, Results } from '../model/results.ts';
import type { Box, LengthUnit } from '../model/shape.ts';
import type { StockCells, StockZone } from '../model/stock-cells.ts';
import type { Drawing, InspectInput } from '../pipeline.ts';
import type { MeasuredOne, MeasureOne } from '../redefine.ts';

/** What page and worker say to each other. Every record survives structured clone. */

/** A file under a key of the page's choosing; the same key always means the same bytes. */
export interface FileHandle {
  key: string;
  name: string;
  blob: StreamableBlob;
}

/** A shape file and the unit its numbers are in; the unit is absent while nobody has said. */
export interface ShapeHandle extends FileHandle {
  unit?: LengthUnit;
}

/** What a shape file was found to be, without its geometry. */
export interface ShapeSummary {
  name: string;
  format: string;
  kind: 'mesh' | 'cloud' | 'sections';
  unit: LengthUnit;
  unitStated: boolean;
  sha256: string;
  bytes: number;
  box: Box;
  points: number;
  triangles: number;
  sections: number;
  warnings: Warning[];
}

/** What a plan file was found to hold. */
export interface PlanSummary {
  name: string;
  sha256: string;
  plan: Plan;
  part: string | null;
  serial: string | null;
  issue: string | null;
  leadingEdgeTowards: string | null;
  heights: number[] | null;
  characteristics: number;
  zones: number;
  equipment: number | null;
  rule: 'guarded' | 'simple';
  factor: number | null;
}

export interface InspectRequest {
  nominal: ShapeHandle;
  measured: ShapeHandle[];
  plan?: FileHandle;
  settings?: NonNullable<InspectInput['settings']>;
  /** Row-major 4 × 4, measured → nominal. */
  pose?: readonly number[];
  acceptPose?: boolean;
}

export interface InspectReply {
  results: Results;
  drawing: Drawing;
}

export interface BlankReply {
  results: Results;
  drawing: Drawing;
  /** Stock by cells, for trial placements on the page. */
  cells: StockCells;
  zones: readonly StockZone[];
  /** What locks and ranges count from: translation at the pivot (mm) and rotations (degrees). */
  origin: readonly number[];
}

/** The finished blade adapted to the kept blank in its last placement. */
export interface AdaptReply {
  adapt: Adapt;
  answer: Answer;
  /** Adapted outlines, closed, x0, y0, x1, … (mm); empty where the adaptation is refused. */
  outlines: { id: string; height: number; points: Float64Array }[];
  files: AdaptedFile[];
}

/** A file of the example made in the worker. */
export interface SampleFile {
  role: 'nominal' | 'measured' | 'plan';
  name: string;
  bytes: Uint8Array;
}

/**
 * An exact value planted in the example: path in a section's measures, height of the section (null: whole part); or
 * `nick`, the depth of one at a height.
 */
export interface Truth {
  of: string;
  name: string;
  height: number | null;
  value: number;
  unit: string;
}

export interface SampleReply {
  files: SampleFile[];
  truths: Truth[];
}

/** Every job by name: what is asked and what comes back. */
export interface Jobs {
  check: { ask: ShapeHandle; reply: ShapeSummary };
  checkPlan: { ask: FileHandle; reply: PlanSummary };
  inspect: { ask: InspectRequest; reply: InspectReply };
  /** The definitions every quantity may be measured by. */
  definitions: { ask: Record<string, never>; reply: { byOf: DefinitionsByPath } };
  /** One quantity of the inspection kept in the worker, by a definition of the user's choice. */
  measure: { ask: MeasureOne; reply: MeasuredOne };
  /** The inspection kept in the worker with quantities measured by chosen definitions. */
  redefine: { ask: { definitions: PlanDefinition[] }; reply: { results: Results } };
  /** Stock of a blank against the finished blade, best fit first; the blank is kept for `placeBlank`. */
  reviewBlank: { ask: InspectRequest; reply: BlankReply };
  /** The kept blank in another placement, on all its points. */
  placeBlank: { ask: BlankPlacement; reply: BlankReply };
  /** Adapts the finished blade to the kept blank; `date` (ISO 8601, to the second) goes into the files. */
  adaptBlank: { ask: { date: string; method: AdaptMethod }; reply: AdaptReply };
  sample: { ask: { part: 'finished' | 'blank' }; reply: SampleReply };
  forget: { ask: { keys: string[] }; reply: null };
}
export type JobName = keyof Jobs;

/** An error as a plain record: what, where, and what to do. */
export interface Failure {
  code: string;
  message: string;
  where: string | null;
  remedy: string;
}

export type ToWorker =
  | { [K in JobName]: { kind: 'start'; job: number; name: K; ask: Jobs[K]['ask'] } }[JobName]
  | { kind: 'cancel'; job: number };

export type FromWorker =
  | { kind: 'ready' }
  | { kind: 'progress'; job: number; progress: Progress }
  | { kind: 'done'; job: number; reply: Jobs[JobName]['reply'] }
  | { kind: 'failed'; job: number; failure: Failure };

export type { BlankPlacement as PlaceBlankRequest, BlankRanges } from '../kept-blank.ts';
