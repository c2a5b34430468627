import type { NominalBlade } from './fit/nominal-blade.ts';
import { checkChoices } from './judge/definition-checks.ts';
import { checkPlanSections } from './judge/plan-checks.ts';
import type { SectionTask } from './measure/compare-section.ts';
import { breathe, type RunContext } from './model/context.ts';
import type { Plan } from './model/plan.ts';
import type { Results } from './model/results.ts';
import type { LoadedShape } from './model/shape.ts';
import { nominalBladeOf } from './nominal.ts';
import { newResults } from './results-head.ts';
import { cutsOfPlan, refuseSameIds } from './section/cut-of-plan.ts';
import { effectiveSettings, type InspectSettings, sectionTasks } from './settings.ts';
import type { FeetFinder } from './spatial/find-feet.ts';
import { makeNominalTarget, type NominalTarget } from './spatial/nominal-target.ts';

/** A plan with the file it came from. */
export interface PlanInput {
  name: string;
  sha256: string;
  plan: Plan;
}

/** What a job works on. */
export interface InspectInput {
  nominal: LoadedShape;
  measured: LoadedShape[];
  plan?: PlanInput;
  settings?: Partial<InspectSettings>;
  /** Placement measured → nominal as a row-major 4 × 4 matrix, instead of finding it. */
  pose?: readonly number[];
  /** Take an ambiguous or mirrored placement knowingly. */
  acceptPose?: boolean;
}

export interface PipelineContext extends RunContext {
  /** Finds the feet, on worker threads where there are any. */
  finder?: FeetFinder;
}

/** What every job on a nominal and a measured part begins with. */
export interface Prepared {
  /** Results with their head filled in. */
  head: Results;
  plan: Plan | null;
  settings: InspectSettings;
  blade: NominalBlade;
  target: NominalTarget;
  /** Sections to be shown or measured. */
  tasks: SectionTask[];
}

/**
 * Returns the nominal surface, the effective settings and the sections of a job, everything checked against the plan.
 * @throws shape/… for a nominal that is no blade, plan/… for a plan that asks for what is not there, `cancelled`
 */
export async function prepare(input: InspectInput, context: PipelineContext): Promise<Prepared> {
  const plan = input.plan?.plan ?? null;
  const settings = effectiveSettings(input.settings, plan);
  checkChoices(settings.definitions, plan, 'settings');
  const head = newResults({ nominal: input.nominal, measured: input.measured, plan: input.plan, settings });
  context.onProgress?.({ step: 'nominal', done: 0, total: 1 });
  const blade = await nominalBladeOf(input.nominal, settings, context);
  const target = makeNominalTarget(blade.surface);
  const cuts = input.plan ? cutsOfPlan(input.plan.plan, input.plan.name) : [];
  const tasks = sectionTasks(blade, settings, input.nominal.shape.kind === 'sections', cuts);
  if (input.plan && cuts.length > 0) refuseSameIds(tasks, input.plan.name);
  const ids = tasks.map((task) => task.id);
  if (input.plan) checkPlanSections(input.plan.plan, ids, input.plan.name);
  await breathe(context);
  return { head, plan, settings, blade, target, tasks };
}
