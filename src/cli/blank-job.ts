import { CamberwrightError } from '../error.ts';
import type { InspectInput } from '../pipeline.ts';
import type { BlankPlacement } from '../review-blank.ts';
import { lengthOf, oneOf } from './options.ts';
import { PART_OPTIONS } from './part-job.ts';

const FITS = ['best-fit', 'share-stock', 'datum'] as const;

/** Files of the jobs on a blank. */
export const BLANK_FILES = {
  nominal: { type: 'string', demandOption: true, describe: 'Finished shape: section table or mesh' },
  blank: { type: 'string', array: true, demandOption: true, describe: 'Scans of the blank' },
} as const;

/** Options of the jobs on a blank. */
export const BLANK_OPTIONS = {
  ...PART_OPTIONS,
  fit: { type: 'string', default: 'best-fit', describe: 'Placement to report: best-fit, share-stock or datum' },
  least: { type: 'string', describe: 'Least stock wanted in mm, instead of what the plan gives' },
  most: { type: 'string', describe: 'Most stock allowed in mm, instead of what the plan gives' },
} as const;

/** What the options give. */
export interface BlankArguments {
  fit: string;
  least?: string | undefined;
  most?: string | undefined;
}

/**
 * Returns the placement the options ask for; a given pose is taken as it is unless another fit is named.
 * @throws `usage/value`
 */
export function placementAsked(argv: BlankArguments): (input: InspectInput) => BlankPlacement {
  const fit = oneOf('--fit', argv.fit, FITS);
  const least = lengthOf('--least', argv.least);
  const most = lengthOf('--most', argv.most);
  if (least !== undefined && most !== undefined && !(most > least))
    throw new CamberwrightError('usage/value', `--most ${most} mm is not above --least ${least} mm.`, {
      where: '--most',
      remedy: 'Give more, or leave it out.',
    });
  return ({ pose, plan }) => ({
    method: pose && fit === 'best-fit' ? 'given' : fit,
    ...(pose ? { matrix: pose } : {}),
    ...(least === undefined && most === undefined
      ? {}
      : { wanted: { least: least ?? 0, most: most ?? plan?.plan.stock?.most ?? null } }),
  });
}
