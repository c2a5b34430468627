import type { Answer, Characteristic, Deviation, PlacedValue, Verdict, ZoneDeviation } from '../model/results.ts';
import { overallVerdict } from './overall-verdict.ts';
import { shareText } from './share-text.ts';
import { SIDE_WORDS } from './side-words.ts';

/** At most this many characteristics are named in a sentence; the rest is counted. */
const NAMED = 3;

function count(verdicts: readonly Verdict[]): Record<'pass' | 'fail' | 'not-proven' | 'not-measured', number> {
  const of = (verdict: Verdict) => verdicts.filter((candidate) => candidate === verdict).length;
  return { pass: of('pass'), fail: of('fail'), 'not-proven': of('not-proven'), 'not-measured': of('not-measured') };
}

/** "26 of 30 pass, 1 fails, 2 not proven, 1 not measured" over the rows that have limits. */
export function countText(verdicts: readonly Verdict[]): string {
  const counts = count(verdicts);
  const total = counts.pass + counts.fail + counts['not-proven'] + counts['not-measured'];
  const parts = [counts.pass === total ? `All ${total} pass` : `${counts.pass} of ${total} pass`];
  if (counts.fail) parts.push(counts.fail === 1 ? '1 fails' : `${counts.fail} fail`);
  if (counts['not-proven']) parts.push(`${counts['not-proven']} not proven`);
  if (counts['not-measured']) parts.push(`${counts['not-measured']} not measured`);
  return parts.join(', ');
}

/**
 * The sentence that answers whether the characteristics are within limits: counts, then the first fails (else what is not
 * proven, else what is not measured) with number, limit and uncertainty.
 */
export function sectionsAnswer(rows: readonly Characteristic[]): Answer {
  const verdicts = rows.map((row) => row.verdict);
  const verdict = overallVerdict(verdicts);
  if (verdict === 'no-limit' || verdict === 'not-applicable') {
    const seen = rows.filter((row) => row.value !== null).length;
    return { text: `${seen} of ${rows.length} characteristics measured; no limits are given.`, verdict };
  }
  const groups: [Verdict, string][] = [
    ['fail', 'Fails'],
    ['not-proven', 'Not proven'],
    ['not-measured', 'Not measured'],
  ];
  const [kind, head] = groups.find(([candidate]) => verdicts.includes(candidate)) ?? [null, ''];
  const named = kind === null ? '' : ` ${head}: ${listText(rows.filter((row) => row.verdict === kind))}.`;
  return { text: `${countText(verdicts)}.${named}`, verdict };
}

function listText(rows: readonly Characteristic[]): string {
  const named = rows.slice(0, NAMED).map(rowText).join('; ');
  return rows.length > NAMED ? `${named}; and ${rows.length - NAMED} more` : named;
}

function rowText(row: Characteristic): string {
  const name = row.name.charAt(0).toLowerCase() + row.name.slice(1);
  const place = row.section === null ? name : `${name}, section ${row.section}`;
  if (row.value === null) return place;
  const { lower, upper, unit } = row.requirement;
  const low = lower === null ? Number.POSITIVE_INFINITY : Math.abs(row.value - lower);
  const high = upper === null ? Number.POSITIVE_INFINITY : Math.abs(row.value - upper);
  const limit = low < high ? `lower limit ${amount(lower!, unit)}` : `upper limit ${amount(upper!, unit)}`;
  const U = row.u === null ? 'U unknown' : `U ${amount(2 * row.u, unit)}`;
  return `${place} (${amount(row.value, unit)}, ${limit}, ${U})`;
}

const POWERS: Record<string, string> = { mm2: 'mm²', mm4: 'mm⁴' };

/** Number with unit as in sentences: three decimals for lengths and degrees, true minus. */
function amount(value: number, unit: string, signed = false): string {
  const text = Math.abs(value).toFixed(unit === 'mm2' || unit === 'mm4' ? 2 : 3);
  const sign = Number(text) === 0 ? '' : value < 0 ? '−' : signed ? '+' : '';
  return `${sign}${text}${unit === '1' ? '' : ` ${POWERS[unit] ?? unit}`}`;
}

function placeText(value: PlacedValue): string {
  if (value.value === null || !value.place) return 'not measured';
  return `${amount(value.value, 'mm', true)} at height ${value.place.height.toFixed(1)} mm, ${SIDE_WORDS[value.place.side]}`;
}

/** The zone value farthest out in a direction. */
function farthest(zones: readonly ZoneDeviation[], pick: 'least' | 'most'): PlacedValue | null {
  const sign = pick === 'most' ? 1 : -1;
  return zones
    .map((zone) => zone[pick])
    .filter((value) => value.value !== null)
    .reduce<PlacedValue | null>(
      (best, value) => (best && sign * best.value! >= sign * value.value! ? best : value),
      null,
    );
}

/** The sentence that answers how the whole part stands: share measured, least and most material with place, zones. */
export function partAnswer(deviation: Deviation, rows: readonly Characteristic[]): Answer {
  const least = farthest(deviation.zones, 'least');
  const most = farthest(deviation.zones, 'most');
  const judged = deviation.zones.map((zone) => zone.verdict);
  const verdict = overallVerdict([...judged, ...rows.map((row) => row.verdict)]);
  const parts = [`${shareText(deviation.coverage)} of the surface is measured.`];
  if (least && most) parts.push(`Least material ${placeText(least)}; most ${placeText(most)}.`);
  const limited = judged.filter((candidate) => candidate !== 'no-limit');
  parts.push(limited.length ? `Zones: ${lowerFirst(countText(limited))}.` : 'No zone has limits.');
  return { text: parts.join(' '), verdict };
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}
