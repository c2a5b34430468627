import type { DefinitionsByPath } from '../../src/judge/definition-info.ts';
import type { Progress } from '../../src/model/context.ts';
import type { Plan, PlanDefinition } from '../../src/model/plan.ts';
import type { Results } from '../../src/model/results.ts';
import type { LengthUnit } from '../../src/model/shape.ts';
import type { Drawing, InspectInput } from '../../src/pipeline.ts';
import type {
  Failure,
  FileHandle,
  InspectRequest,
  PlanSummary,
  ShapeHandle,
  ShapeSummary,
  Truth,
} from '../../src/worker/messages.ts';
import type { DecimalMark } from '../controls/format.ts';
import type { Motion } from '../controls/words.ts';
import { type Trials, withDefinition } from './definition-choice.ts';
import { INITIAL_REVIEW, type ReviewState, reviewStale } from './review-state.ts';
import type { Selection } from './selection.ts';

/** The one record the whole app is drawn from, and the plain functions that change it. No DOM but the File handles. */

export type Page = 'part' | 'stock' | 'sections' | 'report';
export type Role = 'nominal' | 'measured' | 'plan';
export type Theme = 'system' | 'light' | 'dark';
export type Density = 'auto' | 'compact' | 'roomy';

export interface FileEntry {
  key: string;
  role: Role;
  name: string;
  size: number;
  blob: Blob;
  status: 'waiting' | 'reading' | 'read' | 'failed';
  progress: Progress | null;
  /** Unit the user chose; null while the file states its own or nobody has said. */
  unit: LengthUnit | null;
  shape: ShapeSummary | null;
  plan: PlanSummary | null;
  failure: Failure | null;
}

type Job =
  | { state: 'idle' }
  | { state: 'working'; progress: Progress | null; startedMs: number; steps: string[] }
  | { state: 'failed'; failure: Failure }
  | { state: 'done'; seconds: number };

/** What the user may set before measuring; absent means the default or the plan's own. */
export interface Settings {
  leadingEdgeTowards: '+X' | '-X' | '+Y' | '-Y' | null;
  heights: number[] | null;
  locks: Motion[];
  acceptPose: boolean;
}

export interface Preferences {
  theme: Theme;
  density: Density;
  mark: DecimalMark;
  letterKeys: boolean;
}

export interface AppState {
  page: Page;
  files: FileEntry[];
  settings: Settings;
  job: Job;
  results: Results | null;
  drawing: Drawing | null;
  /** The change that made the results old, in words; null while they are current. */
  stale: string | null;
  /** What the Stock page shows of a blank; its files are those of the Part page. */
  review: ReviewState;
  selection: Selection;
  /** Definitions every quantity may be measured by; null until the worker has told them. */
  definitions: DefinitionsByPath | null;
  /** Definitions the user chose over the plan's; in force in the results. */
  chosen: PlanDefinition[];
  /** What each of those quantities was measured by before the last choice. */
  earlier: PlanDefinition[];
  /** Quantities tried by other definitions; not part of the results. */
  trials: Trials;
  /** Exact values of the example while it is open; empty for the user's own files. */
  truths: Truth[];
  preferences: Preferences;
  /** Last thing worth saying in the live region. */
  said: string;
}

export const INITIAL_STATE: AppState = {
  page: 'part',
  files: [],
  settings: { leadingEdgeTowards: null, heights: null, locks: [], acceptPose: false },
  job: { state: 'idle' },
  results: null,
  drawing: null,
  stale: null,
  review: INITIAL_REVIEW,
  selection: {},
  definitions: null,
  chosen: [],
  earlier: [],
  trials: {},
  truths: [],
  preferences: { theme: 'system', density: 'auto', mark: '.', letterKeys: true },
  said: '',
};

export const filesOf = (state: AppState, role: Role): FileEntry[] => state.files.filter((f) => f.role === role);

/** The plan that is open, as far as the results were judged by it; null without one. */
export function usedPlan(state: AppState): Plan | null {
  const found = filesOf(state, 'plan')[0]?.plan ?? null;
  const judged = state.results?.inputs.plan;
  return found !== null && (state.results === null || judged?.sha256 === found.sha256) ? found.plan : null;
}

/** True while a shape file does not say its unit and the user has not chosen one. */
export const needsUnit = (file: FileEntry): boolean =>
  file.shape !== null && !file.shape.unitStated && file.unit === null;

/** What still keeps the job from starting, in words; null when it may start. */
export function obstacle(state: AppState): string | null {
  const nominal = filesOf(state, 'nominal');
  const measured = filesOf(state, 'measured');
  if (nominal.length === 0) return 'Choose the nominal shape.';
  if (measured.length === 0) return 'Choose the measured part.';
  const failed = state.files.find((f) => f.status === 'failed');
  if (failed) return `${failed.name} cannot be read. Change or remove it.`;
  if (state.files.some((f) => f.status !== 'read')) return 'The files are still being read.';
  const open = state.files.find(needsUnit);
  if (open) return `Choose the unit of ${open.name}.`;
  return null;
}

/** Adds a file. A second nominal or plan takes the place of the first. */
export function addFile(state: AppState, file: FileEntry): AppState {
  const kept = file.role === 'measured' ? state.files : state.files.filter((f) => f.role !== file.role);
  const chosen = file.role === 'plan' ? { chosen: [], earlier: [] } : {};
  return markStale({ ...state, ...chosen, truths: [], files: [...kept, file] }, 'Files were changed');
}

export function changeFile(state: AppState, key: string, change: Partial<FileEntry>): AppState {
  return { ...state, files: state.files.map((f) => (f.key === key ? { ...f, ...change } : f)) };
}

export function removeFile(state: AppState, key: string): AppState {
  return markStale({ ...state, truths: [], files: state.files.filter((f) => f.key !== key) }, 'Files were changed');
}

export function chooseUnit(state: AppState, key: string, unit: LengthUnit): AppState {
  return markStale(changeFile(state, key, { unit }), 'The unit was changed');
}

export function changeSettings(state: AppState, change: Partial<Settings>, what: string): AppState {
  return markStale({ ...state, settings: { ...state.settings, ...change } }, what);
}

/** Results and review stay on screen but are marked as old, with the change that caused it. */
export function markStale(state: AppState, what: string): AppState {
  const review = reviewStale(state.review, what);
  const stale = state.results === null ? state.stale : (state.stale ?? what);
  return review === state.review && stale === state.stale ? state : { ...state, review, stale };
}

export function jobStarted(state: AppState, nowMs: number): AppState {
  return { ...state, job: { state: 'working', progress: null, startedMs: nowMs, steps: [] }, said: 'Measuring.' };
}

export function jobProgress(state: AppState, progress: Progress): AppState {
  if (state.job.state !== 'working') return state;
  const { steps } = state.job;
  const grown = steps.includes(progress.step) ? steps : [...steps, progress.step];
  return { ...state, job: { ...state.job, progress, steps: grown } };
}

export function jobFailed(state: AppState, failure: Failure): AppState {
  if (failure.code === 'cancelled') return jobCancelled(state);
  return { ...state, job: { state: 'failed', failure }, said: failure.message };
}

/** Back to where the user was before the job: earlier results, if any, are kept. */
export function jobCancelled(state: AppState): AppState {
  return { ...state, job: { state: 'idle' }, said: 'Stopped. Nothing was changed.' };
}

export function jobDone(state: AppState, results: Results, drawing: Drawing, seconds: number): AppState {
  return {
    ...state,
    results,
    drawing,
    stale: null,
    selection: {},
    trials: {},
    job: { state: 'done', seconds },
    said: results.answers.part?.text ?? 'Done.',
  };
}

/** The results after one quantity was given another definition; what it was measured by before is kept. */
export function redefined(
  state: AppState,
  results: Results,
  change: { now: PlanDefinition; before: PlanDefinition },
): AppState {
  return {
    ...state,
    results,
    trials: {},
    chosen: withDefinition(state.chosen, change.now),
    earlier: withDefinition(state.earlier, change.before),
    said: `Measured by ${change.now.definition} now. ${results.answers.sections?.text ?? ''}`,
  };
}

/**
 * The placement a fit with locks starts from: that of the last results, while they are of the same files. Locked
 * motions keep its values. Row-major 4 × 4, measured → nominal.
 */
export function startPose(state: AppState): number[] | null {
  const { results, settings } = state;
  if (settings.locks.length === 0 || !results?.alignment) return null;
  const now = [...filesOf(state, 'nominal'), ...filesOf(state, 'measured')].map((f) => f.shape?.sha256);
  const then = [results.inputs.nominal, ...(results.inputs.measured ?? [])].map((input) => input?.sha256);
  return now.length === then.length && now.every((hash, i) => hash === then[i]) ? results.alignment.matrix : null;
}

/** The settings of an inspection as the pipeline takes them. */
export function inspectSettings(settings: Settings): NonNullable<InspectInput['settings']> {
  return {
    locks: settings.locks,
    ...(settings.heights ? { heights: settings.heights } : {}),
    ...(settings.leadingEdgeTowards ? { leadingEdgeTowards: settings.leadingEdgeTowards } : {}),
  };
}

export function handleOf(file: FileEntry): FileHandle {
  return { key: file.key, name: file.name, blob: file.blob };
}

function shapeOf(file: FileEntry): ShapeHandle {
  return { ...handleOf(file), ...(file.unit ? { unit: file.unit } : {}) };
}

/** The open files and settings as the worker takes them, without a placement. */
export function inspectRequest(state: AppState): InspectRequest {
  const [nominal] = filesOf(state, 'nominal');
  const [plan] = filesOf(state, 'plan');
  return {
    nominal: shapeOf(nominal),
    measured: filesOf(state, 'measured').map(shapeOf),
    ...(plan ? { plan: handleOf(plan) } : {}),
    settings: inspectSettings(state.settings),
    acceptPose: state.settings.acceptPose,
  };
}
