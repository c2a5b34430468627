import { adaptFigures } from '../support/adapt-figures.ts';
import { shareFigures } from '../support/share-figures.ts';
import { bootstrapRows } from './bootstrap.ts';
import { edgeClassStatistics } from './edge-classes.ts';
import { edgeKinds } from './edge-kinds.ts';
import type { RowErrors } from './row-statistics.ts';
import { type SeedTask, sectionErrors } from './section-statistics.ts';
import { withNominalErrors } from './with-nominal.ts';

/** What worker threads can do: the job by name, its task and result plain records. */
export const JOBS = {
  sections: sectionErrors,
  'with-nominal': (task: SeedTask): RowErrors => withNominalErrors(task),
  'edge classes': ({ from, count }: { from: number; count: number }) => edgeClassStatistics(from, count),
  edges: edgeKinds,
  bootstrap: bootstrapRows,
  'share stock': shareFigures,
  adapt: adaptFigures,
};

export type JobName = keyof typeof JOBS;
export type Task<K extends JobName> = Parameters<(typeof JOBS)[K]>[0];
export type Result<K extends JobName> = Awaited<ReturnType<(typeof JOBS)[K]>>;
/** Jobs that give the errors of a stretch of seeds, to be joined over stretches. */
export type SeedJob = {
  [K in JobName]: (typeof JOBS)[K] extends (task: SeedTask) => RowErrors ? K : never;
}[JobName];
