import type { Value } from '../../src/model/value.ts';
import { MOTION_WORDS, MOTIONS, PLACEMENT_WORDS } from '../controls/words.ts';
import type { KeptReview } from '../state/review-state.ts';

/** One line of the difference table: a quantity of two kept results. */
export interface CompareRow {
  name: string;
  unit: string;
  decimals: number;
  signed: boolean;
  from: number | null;
  to: number | null;
}

const numberOf = (value: Value): number | null => value.value;

/** Quantities of two kept results, one under the other: stock, areas, volume and the placement's values. */
export function compareRows(from: KeptReview, to: KeptReview): CompareRow[] {
  const row = (
    name: string,
    unit: string,
    decimals: number,
    of: (kept: KeptReview) => number | null,
    signed = false,
  ): CompareRow => ({ name, unit, decimals, signed, from: of(from), to: of(to) });
  const short = (kept: KeptReview): number => kept.results.stock!.areas.reduce((sum, { areaMm2 }) => sum + areaMm2, 0);
  const placed = (kept: KeptReview, k: number): number | null => {
    const { alignment } = kept.results;
    if (!alignment) return null;
    return k < 3 ? alignment.translation[k] : alignment.rotationDeg[k - 3];
  };
  return [
    row('Least', 'mm', 3, (kept) => numberOf(kept.results.stock!.least), true),
    row('Mean', 'mm', 3, (kept) => numberOf(kept.results.stock!.mean), true),
    row('Most', 'mm', 3, (kept) => numberOf(kept.results.stock!.most), true),
    row('Spare stock', 'mm', 3, (kept) => numberOf(kept.results.stock!.placement.spare), true),
    row('Areas short of stock', '', 0, (kept) => kept.results.stock!.areas.length),
    row('Area short of stock', 'mm²', 1, short),
    row('Volume to remove', 'mm³', 1, (kept) => numberOf(kept.results.stock!.volumeMm3)),
    ...MOTIONS.map((motion, k) => row(MOTION_WORDS[motion], k < 3 ? 'mm' : '°', 4, (kept) => placed(kept, k), true)),
  ];
}

const wantedText = ({ zones }: KeptReview): string =>
  zones
    .map(({ name, least, most }) => `${name} ${least.toFixed(2)}${most === null ? '' : `–${most.toFixed(2)}`}`)
    .join(', ');

/** What two kept results differ in, in words: placement, files, stock wanted; empty when in nothing. */
export function differences(from: KeptReview, to: KeptReview): string[] {
  const found: string[] = [];
  const [a, b] = [from.results, to.results];
  const moved = a.alignment?.matrix.some((value, i) => value !== b.alignment?.matrix[i]) ?? false;
  if (moved)
    found.push(
      `placement (${PLACEMENT_WORDS[a.stock!.placement.method]}; ${PLACEMENT_WORDS[b.stock!.placement.method]})`,
    );
  const scans = (kept: KeptReview): string => (kept.results.inputs.measured ?? []).map((input) => input.sha256).join();
  if (scans(from) !== scans(to)) found.push('scan');
  if (a.inputs.nominal?.sha256 !== b.inputs.nominal?.sha256) found.push('nominal');
  if (a.inputs.plan?.sha256 !== b.inputs.plan?.sha256) found.push('plan');
  if (wantedText(from) !== wantedText(to)) found.push(`stock wanted (${wantedText(from)}; ${wantedText(to)})`);
  return found;
}
