import { decide } from '../judge/decide.ts';
import { SIDE_WORDS } from '../judge/side-words.ts';
import { ruleOf } from '../judge/zones.ts';
import type { PlacedValue, Verdict } from '../model/results.ts';
import { lengthText } from './length-text.ts';
import { placedExtreme } from './stock-numbers.ts';
import type { StockScene } from './stock-scene.ts';

/** One thing a flank is held against before it may stay as forged. */
export interface FlankCheck {
  verdict: Verdict;
  reason: string;
}

/**
 * Holds the stock of a zone's flanks against the profile limits of the finished surface: it must lie inside them as it is.
 * Where several profile zones meet, each part is held against its own; a part without limits can be held against nothing.
 */
export function bandChecks(scene: StockScene, zone: number): FlankCheck[] {
  const rule = ruleOf(scene.plan);
  const checks: FlankCheck[] = [];
  for (const { minus, plus, chosen } of partsByLimits(scene, zone)) {
    if (Number.isNaN(minus)) {
      checks.push({ verdict: 'no-limit', reason: 'The plan gives no profile limits here.' });
      continue;
    }
    const least = placedExtreme(scene, chosen, -1);
    const most = placedExtreme(scene, chosen, 1);
    const low = decide(least.value, least.u, -minus, null, rule);
    const high = decide(most.value, most.u, null, plus, rule);
    checks.push(
      { verdict: low.verdict, reason: bandText(low.verdict, least, 'lower', -minus) },
      { verdict: high.verdict, reason: bandText(high.verdict, most, 'upper', plus) },
    );
  }
  return checks;
}

/** The stock cells of a zone's flanks by the profile limits that hold there. */
function partsByLimits(scene: StockScene, zone: number): { minus: number; plus: number; chosen: number[] }[] {
  const { fine, cells } = scene;
  const taken = new Uint8Array(cells.count);
  const parts = new Map<string, { minus: number; plus: number; chosen: number[] }>();
  for (let m = 0; m < fine.zone.length; m++) {
    const k = cells.ofMapCell[m];
    if (fine.zone[m] !== zone || fine.flank[m] === 0 || taken[k] || cells.zone[k] !== zone) continue;
    taken[k] = 1;
    const [minus, plus] = [fine.minus[m], fine.plus[m]];
    const key = `${minus}/${plus}`;
    const part = parts.get(key) ?? { minus, plus, chosen: [] };
    part.chosen.push(k);
    parts.set(key, part);
  }
  return [...parts.values()];
}

function bandText(verdict: Verdict, stock: PlacedValue, which: 'lower' | 'upper', limit: number): string {
  if (stock.value === null || stock.place === null) return 'Not measured.';
  const where = `at height ${stock.place.height.toFixed(1)} mm, ${SIDE_WORDS[stock.place.side]}`;
  const against = `the ${which} profile limit ${lengthText(limit, true)}`;
  const words = { fail: 'beyond', 'not-proven': 'not proven within' } as Partial<Record<Verdict, string>>;
  return `${lengthText(stock.value, true)} ${where}: ${words[verdict] ?? 'within'} ${against}.`;
}
