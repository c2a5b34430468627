import type { Verdict } from '../../model/results.ts';
import { VERDICT_TINTS } from '../colours.ts';
import { px } from './path.ts';

/** Words of the verdicts as shown; the shape never stands without its word nearby. */
export const VERDICT_WORDS: Record<Verdict, string> = {
  pass: 'Pass',
  fail: 'FAIL',
  'not-proven': 'Not proven',
  'not-measured': 'Not measured',
  'no-limit': 'No limit',
  'not-applicable': 'Not applicable',
};

export interface VerdictShape {
  /** Border path and whether it is filled or dashed. */
  border: string;
  filled: boolean;
  dashed: boolean;
  /** Sign inside the border, drawn as lines; '' when there is none. */
  sign: string;
  tint: string;
}

/** Paths of a verdict's shape about (x, y): ring, filled square, diamond, dashed ring; `r` is half its height (px). */
export function verdictShape(verdict: Verdict, x: number, y: number, r: number): VerdictShape {
  const at = (dx: number, dy: number) => `${px(x + dx * r)} ${px(y + dy * r)}`;
  const ring = `M${at(-1, 0)}a${px(r)} ${px(r)} 0 1 0 ${px(2 * r)} 0a${px(r)} ${px(r)} 0 1 0 ${px(-2 * r)} 0Z`;
  const tint = VERDICT_TINTS[verdict];
  switch (verdict) {
    case 'pass':
      return {
        border: ring,
        filled: false,
        dashed: false,
        sign: `M${at(-0.45, 0.05)}L${at(-0.1, 0.4)}L${at(0.5, -0.4)}`,
        tint,
      };
    case 'fail': {
      const sign = `M${at(-0.5, -0.5)}L${at(0.5, 0.5)}M${at(0.5, -0.5)}L${at(-0.5, 0.5)}`;
      return {
        border: `M${at(-1, -1)}L${at(1, -1)}L${at(1, 1)}L${at(-1, 1)}Z`,
        filled: true,
        dashed: false,
        sign,
        tint,
      };
    }
    case 'not-proven': {
      const sign = `M${at(-0.28, -0.25)}C${at(-0.28, -0.7)} ${at(0.34, -0.65)} ${at(0.3, -0.2)}C${at(0.28, 0)} ${at(0, 0)} ${at(0, 0.22)}M${at(0, 0.46)}L${at(0, 0.52)}`;
      return {
        border: `M${at(0, -1.25)}L${at(1.25, 0)}L${at(0, 1.25)}L${at(-1.25, 0)}Z`,
        filled: false,
        dashed: false,
        sign,
        tint,
      };
    }
    case 'not-measured':
      return { border: ring, filled: false, dashed: true, sign: `M${at(-0.45, 0)}L${at(0.45, 0)}`, tint };
    default:
      return { border: '', filled: false, dashed: false, sign: `M${at(-0.45, 0)}L${at(0.45, 0)}`, tint };
  }
}
