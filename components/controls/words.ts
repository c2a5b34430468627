import type { Alignment, Fault, Results, Side, Verdict } from '../../src/model/results.ts';
import type { ShortArea, StockPlacement } from '../../src/model/stock-results.ts';

export { AS_FORGED_WORDS } from '../../src/report/stock-text.ts';

/** Every word that stands for a code on screen, in one place. */

export const VERDICT_WORDS: Record<Verdict, string> = {
  pass: 'Pass',
  fail: 'FAIL',
  'not-proven': 'Not proven',
  'not-measured': 'Not measured',
  'no-limit': 'No limit',
  'not-applicable': 'Not applicable',
};

export const SIDE_WORDS: Record<Side, string> = {
  suction: 'suction side',
  pressure: 'pressure side',
  'leading-edge': 'leading edge',
  'trailing-edge': 'trailing edge',
};

/** What the map and the plots of a result show: the stock of a blank, or the deviation of a part. */
export const quantityWord = (results: Pick<Results, 'stock'>): 'stock' | 'deviation' =>
  results.stock ? 'stock' : 'deviation';

/** Measured share of the surface, 0 … 1; null where it is not known. */
export const coverageOf = ({ stock, deviation }: Pick<Results, 'stock' | 'deviation'>): number | null =>
  stock?.coverage ?? deviation?.coverage ?? null;

export const AREA_WORDS: Record<ShortArea['kind'], string> = {
  thin: 'less than wanted',
  'within-band': 'no stock, within limits',
  lack: 'will not clean up',
};

export const PLACEMENT_WORDS: Record<StockPlacement['method'], string> = {
  'best-fit': 'best fit',
  'share-stock': 'share stock evenly',
  datum: 'datum fit',
  given: 'given values',
};

/** Order of rotations in words, the first named first. */
export function orderWords(order: string): string {
  if (order === 'RzRyRx') return 'X, then Y, then Z';
  return order === 'RxRyRz' ? 'Z, then Y, then X' : order;
}

export const FAULT_WORDS: Record<Fault['kind'], string> = { nick: 'Nick', bump: 'Bump', flat: 'Flat' };

export const MOTIONS = ['x', 'y', 'z', 'rx', 'ry', 'rz'] as const;
export type Motion = (typeof MOTIONS)[number];

export const MOTION_WORDS: Record<Motion, string> = {
  x: 'X',
  y: 'Y',
  z: 'Z',
  rx: 'about X',
  ry: 'about Y',
  rz: 'about Z',
};

const PLAY_WORDS = ['across, X', 'across, Y', 'along the span', 'tilt about X', 'tilt about Y', 'turn about the span'];

/** The name of a slip by its largest part, and the second where that is at least half as large. */
export function playWords(motion: readonly number[]): string {
  const order = motion.map((_, k) => k).sort((a, b) => Math.abs(motion[b]) - Math.abs(motion[a]));
  const [first, second] = order;
  const mixed = Math.abs(motion[second]) >= 0.5 * Math.abs(motion[first]);
  return mixed ? `${PLAY_WORDS[first]}; with ${PLAY_WORDS[second]}` : PLAY_WORDS[first];
}

/** How the placement was made, and what was held while it was. */
export function alignmentWords(alignment: Pick<Alignment, 'method' | 'locks'> | null): string {
  if (alignment === null) return 'not made yet';
  if (alignment.method === 'given') return 'placement given';
  const held = alignment.locks.map((motion) => MOTION_WORDS[motion]);
  return held.length === 0 ? 'best fit' : `best fit, ${held.join(', ')} locked`;
}

/** Order in which verdicts call for attention. */
const VERDICT_ORDER: Verdict[] = ['fail', 'not-proven', 'not-measured', 'pass', 'no-limit', 'not-applicable'];

/** The one verdict that stands for many: the most urgent. */
export function worstVerdict(verdicts: Verdict[]): Verdict | null {
  return VERDICT_ORDER.find((v) => verdicts.includes(v)) ?? null;
}
