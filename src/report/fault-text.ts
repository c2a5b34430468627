import { SIDE_WORDS } from '../judge/side-words.ts';
import type { Fault } from '../model/results.ts';
import { formatFixed, formatU } from './format-number.ts';

/** Where a fault is, such as "leading edge, height 22.5 mm, 1.20 mm from the leading edge along the suction side". */
export function faultPlace({ place }: Fault): string {
  const along = `${formatFixed(Math.abs(place.along), 2)} mm along the ${place.along < 0 ? 'suction' : 'pressure'} side`;
  return `${SIDE_WORDS[place.side]}, height ${formatFixed(place.height, 1)} mm, ${along} from the leading edge`;
}

/** Depth with its uncertainty and extent, such as "−0.052 mm (U 0.006), 0.31 × 0.80 mm, 41 points". */
export function faultSize(fault: Fault): string {
  const { depth, u, width, length, points } = fault;
  const extent = `${formatFixed(width, 2)} × ${formatFixed(length, 2)} mm`;
  const known = u === null ? 'U unknown' : `U ${formatU(u)}`;
  return `${formatFixed(depth, 3, { signed: true })} mm (${known}), ${extent}, ${points} points`;
}
