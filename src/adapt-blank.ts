import type { NominalBlade } from './fit/nominal-blade.ts';
import type { BlankPlacement, KeptBlank } from './kept-blank.ts';
import type { Adapt } from './model/adapt-results.ts';
import type { Answer } from './model/results.ts';
import type { SectionTable } from './model/shape.ts';
import type { InspectInput, PipelineContext } from './prepare.ts';
import { type BlankReview, reviewBlank } from './review-blank.ts';
import { adaptAnswer } from './stock/adapt-answer.ts';
import { adaptBlade } from './stock/adapt-blade.ts';
import { adaptWhole } from './stock/adapt-whole.ts';

/** What is adapted: the edges between flanks that stay, or the whole blade within its profile. */
export type AdaptMethod = 'edges' | 'whole';

/** The review of a blank with the finished blade adapted to it. */
export interface AdaptedBlank extends BlankReview {
  /** The adapted blade and its sections; null where the adaptation is refused. */
  blade: NominalBlade | null;
  table: SectionTable | null;
}

/**
 * Returns a blank's review with the finished blade adapted to it in the placement asked for, every check held: `edges`
 * keeps flanks that may stay as forged and builds edges between them, `whole` moves the whole blade within its profile
 * by the least smooth offset that leaves the stock wanted everywhere.
 * @throws as `reviewBlank`
 */
export async function adaptBlank(
  input: InspectInput,
  context: PipelineContext,
  asked: BlankPlacement,
  method: AdaptMethod = 'edges',
): Promise<AdaptedBlank> {
  const review = await reviewBlank(input, context, asked);
  context.onProgress?.({ step: 'adapt', done: 0, total: 1 });
  const { adapt, answer, blade, table } = adaptKept(review.kept, method);
  const { results } = review;
  return { ...review, results: { ...results, answers: { ...results.answers, adapt: answer }, adapt }, blade, table };
}

/** The finished blade adapted to a kept blank. */
export interface AdaptedKept {
  adapt: Adapt;
  answer: Answer;
  /** Null where the adaptation is refused. */
  blade: NominalBlade | null;
  table: SectionTable | null;
}

/** Returns the finished blade adapted to a kept blank in the placement last judged. */
export function adaptKept(kept: KeptBlank, method: AdaptMethod): AdaptedKept {
  const { input, zones } = kept.judged!;
  const adapt = method === 'edges' ? adaptBlade : adaptWhole;
  const { results, blade, table } = adapt({ ...input, blade: kept.prepared.blade, verdicts: zones });
  return { adapt: results, answer: adaptAnswer(results), blade, table };
}
