import type { Side, Verdict } from '../../src/model/results.ts';

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

/** Order in which verdicts call for attention. */
const VERDICT_ORDER: Verdict[] = ['fail', 'not-proven', 'not-measured', 'pass', 'no-limit', 'not-applicable'];

/** The one verdict that stands for many: the most urgent. */
export function worstVerdict(verdicts: Verdict[]): Verdict | null {
  return VERDICT_ORDER.find((v) => verdicts.includes(v)) ?? null;
}
