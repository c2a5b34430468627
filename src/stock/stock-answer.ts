import { overallVerdict } from '../judge/overall-verdict.ts';
import { SIDE_WORDS } from '../judge/side-words.ts';
import type { Answer, Place } from '../model/results.ts';
import type { Stock, StockPlacement, StockZoneResult } from '../model/stock-results.ts';
import { lengthText } from './length-text.ts';

/** At most this many places that hold a blank are named in the sentence. */
const NAMED = 3;

/**
 * The sentence that answers whether a blank has stock enough everywhere: the least with its place and what is to spare;
 * else what is short and whether another placement helps, or by how much no placement can; and what is not measured.
 */
export function stockAnswer(stock: Stock): Answer {
  const verdict = overallVerdict(stock.zones.map((zone) => zone.verdict));
  const unseen = missingText(stock.coverage);
  if (stock.least.value === null || stock.least.place === null)
    return { text: 'The stock is not measured.', verdict: 'not-measured' };
  if (verdict === 'fail') return { text: `${failText(stock)}${unseen}`, verdict };
  const least = `least ${lengthText(stock.least.value)} ${placeText(stock.least.place)}`;
  const spare = spareText(stock.placement);
  if (verdict === 'not-proven') return { text: `Not proven: ${least}${spare}.${unseen}`, verdict };
  if (verdict === 'not-measured') {
    const reason = stock.zones.find((zone) => zone.verdict === 'not-measured');
    const where = unseen || (reason?.reason ? ` ${reason.reason}` : '');
    const head = stock.zones.every((zone) => isEnough(zone, stock.wanted.factor)) ? 'Enough stock' : 'Not proven';
    return { text: `${head} where measured: ${least}${spare}.${where}`, verdict };
  }
  return { text: `Enough stock everywhere: ${least}${spare}.${unseen}`, verdict };
}

/** True for a zone whose measured part has what is wanted beyond its uncertainty, or of which nothing is measured. */
function isEnough({ least, wanted }: StockZoneResult, factor: number): boolean {
  return least.value === null || least.value >= wanted.least + factor * (least.u ?? 0);
}

function failText(stock: Stock): string {
  const best = stock.better ?? stock.placement;
  const { value: spare } = best.spare;
  if (spare !== null && spare < 0 && best.converged && isOptimum(stock)) {
    const held = best.heldBy;
    const at = held[0] ? ` ${placeText(held[0].place)}` : '';
    const names = [...new Set(held.map(({ zone }) => zone))].slice(0, NAMED);
    const by = names.length > 0 ? `, held by ${listText(names)}` : '';
    return `Cannot clean up${heldText(best)}: short by ${lengthText(-spare)}${at}${by}.`;
  }
  return `Not yet: ${shortText(stock)}${betterText(stock)}`;
}

/** True when no placement is known to be better than the best one told: stock was shared, or sharing gained nothing. */
function isOptimum({ better, placement }: Stock): boolean {
  return (better ?? placement).method === 'share-stock' || better === null;
}

/** " with Z held" where locks or ranges held axes while stock was shared. */
function heldText({ heldAxes = [] }: StockPlacement): string {
  const names = heldAxes.map((axis) =>
    axis.startsWith('r') ? `turn about ${axis[1].toUpperCase()}` : axis.toUpperCase(),
  );
  return names.length > 0 ? ` with ${listText(names)} held` : '';
}

function shortText(stock: Stock): string {
  const { areas } = stock;
  const over = stock.zones.filter(isOver);
  const parts: string[] = [];
  if (areas.length > 0) parts.push(`${areas.length} ${areas.length === 1 ? 'area' : 'areas'} short of stock.`);
  if (stock.least.place && (areas.length > 0 || over.length === 0))
    parts.push(`Least ${lengthText(stock.least.value ?? 0)} ${placeText(stock.least.place)}.`);
  const [most] = over.sort((a, b) => (b.most.value ?? 0) - (a.most.value ?? 0));
  if (most?.most.place && most.wanted.most !== null)
    parts.push(
      `Most ${lengthText(most.most.value ?? 0)} ${placeText(most.most.place)}, over the ${lengthText(most.wanted.most)} allowed.`,
    );
  return parts.join(' ');
}

/** True for a zone that fails by too much stock. */
function isOver({ verdict, wanted, most }: StockZoneResult): boolean {
  return verdict === 'fail' && wanted.most !== null && most.value !== null && most.value > wanted.most;
}

function betterText({ better }: Stock): string {
  const spare = better?.spare.value ?? null;
  if (spare === null) return '';
  return spare >= 0
    ? ` A better placement exists (${lengthText(spare)} to spare).`
    : ` A better placement exists (short by ${lengthText(-spare)}).`;
}

function spareText({ spare }: StockPlacement): string {
  return spare.value === null || spare.value < 0 ? '' : `; ${lengthText(spare.value)} to spare`;
}

function placeText(place: Place): string {
  return `at height ${place.height.toFixed(1)} mm, ${SIDE_WORDS[place.side]}`;
}

function listText(names: readonly string[]): string {
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}

/** " 5.8 % not measured.", rounded up so that what is missing never reads 0.0 %; nothing when all is measured. */
function missingText(coverage: number): string {
  const tenths = Math.ceil(1000 * (1 - coverage) - 1e-6);
  return tenths > 0 ? ` ${(tenths / 10).toFixed(1)} % not measured.` : '';
}
