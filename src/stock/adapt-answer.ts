import { SIDE_WORDS } from '../judge/side-words.ts';
import type { Adapt } from '../model/adapt-results.ts';
import type { Answer } from '../model/results.ts';

const EDGE_WORDS = { 'leading-edge': 'leading edge', 'trailing-edge': 'trailing edge' } as const;

function mm(value: number): string {
  const amount = Math.abs(value).toFixed(3);
  return `${value < 0 && Number(amount) > 0 ? '−' : ''}${amount} mm`;
}

/**
 * The sentence that answers whether the finished blade can be adapted to a blank: what stays, what is built, how far it
 * departs from the nominal; or why it cannot.
 */
export function adaptAnswer(adapt: Adapt): Answer {
  const { verdict, flanks, sections, departs } = adapt;
  if (adapt.refusedReason !== undefined)
    return { text: `Cannot be adapted: ${lowerFirst(adapt.refusedReason)}`, verdict };
  const proven = verdict === 'pass' ? 'all checks pass' : 'not every check is proven';
  const most = departs?.most.value ?? null;
  const least = departs?.least.value ?? null;
  const away = most === null || least === null ? '' : ` Departs from nominal by ${mm(least)} to ${mm(most)}.`;
  if (adapt.method === 'offset-field')
    return { text: `The whole blade cleans up within its profile limits; ${proven}.${away}`, verdict };
  const kept = flanks.filter((flank) => flank.kept).map(({ side }) => SIDE_WORDS[side]);
  const stays =
    kept.length === 2
      ? 'Both flanks stay as forged'
      : kept.length === 1
        ? `The ${kept[0]} stays as forged`
        : 'No flank stays as forged';
  const edges = [...new Set(sections.flatMap((section) => section.edges.map(({ edge }) => EDGE_WORDS[edge])))];
  const built = edges.length > 0 ? `; ${edges.join(' and ')} adapted over ${sections.length} sections` : '';
  return { text: `${stays}${built}; ${proven}.${away}`, verdict };
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}
