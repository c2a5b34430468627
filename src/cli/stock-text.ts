import { SIDE_WORDS } from '../judge/side-words.ts';
import type { Results } from '../model/results.ts';
import type { Stock, StockPlacement } from '../model/stock-results.ts';
import { formatFixed, percentText } from '../report/format-number.ts';
import { PLACEMENT_WORDS } from '../report/placement-words.ts';
import { AS_FORGED_WORDS, stockValueText } from '../report/stock-text.ts';
import { VERDICT_WORDS } from '../report/svg/verdict-shape.ts';
import type { Talk } from './talk.ts';

/** Areas printed when not everything is asked for. */
const MOST = 6;

const signed = (value: number): string => formatFixed(value, 3, { signed: true });

/** The answer, zones, short areas, placements and values for the control as lines; the first is the answer. */
export function stockText(results: Results, paths: readonly string[], talk: Talk): string {
  const stock = results.stock!;
  const answer = results.answers.stock!;
  return [
    answer.text,
    `Verdict: ${talk.tint(VERDICT_WORDS[answer.verdict], answer.verdict)}`,
    ...zoneLines(stock, talk),
    ...areaLines(stock, talk),
    ...placementLines('Placement', stock.placement),
    ...offsetLines(stock),
    ...betterLines(stock),
    `Report: ${paths.find((path) => path.endsWith('.html'))}`,
    `Files:  ${paths.filter((path) => !path.endsWith('.html')).join('\n        ')}`,
  ]
    .map((line) => line.trimEnd())
    .join('\n');
}

function zoneLines(stock: Stock, talk: Talk): string[] {
  return stock.zones.map((zone) => {
    const word = talk.tint(VERDICT_WORDS[zone.verdict].padEnd(13), zone.verdict);
    const over = zone.wanted.most !== null && (zone.most.value ?? 0) > zone.wanted.most;
    const most = over ? `, most ${stockValueText(zone.most)} (${zone.wanted.most} mm allowed)` : '';
    const least = `least ${stockValueText(zone.least)}${most}`;
    const forged = `as forged: ${AS_FORGED_WORDS[zone.asForged.verdict].toLowerCase()} (${zone.asForged.reason})`;
    return `  ${word} ${zone.zone}: ${least}; measured ${percentText(zone.coverage)}; ${forged}`;
  });
}

function areaLines(stock: Stock, talk: Talk): string[] {
  if (stock.areas.length === 0) return [];
  const shown = talk.verbose ? stock.areas : stock.areas.slice(0, MOST);
  const lines = shown.map(
    ({ place, areaMm2, least, depth, zone }, i) =>
      `  ${i + 1}  height ${place.height.toFixed(1)} mm, ${SIDE_WORDS[place.side]} (${zone}): least ` +
      `${least.value === null ? '–' : signed(least.value)} mm, short by ${depth.toFixed(3)} mm, ${areaMm2.toFixed(1)} mm²`,
  );
  const left = stock.areas.length - shown.length;
  return ['Short of stock:', ...lines, ...(left > 0 ? [`  and ${left} more; --verbose prints all`] : [])];
}

function placementLines(head: string, placement: StockPlacement): string[] {
  const { spare, heldBy } = placement;
  const amount = spare.value === null ? 'not known' : `${signed(spare.value)} mm to spare`;
  const holds = heldBy.map(
    ({ place, zone, weight }) => `  held by height ${place.height.toFixed(1)} mm, ${zone}: ${percentText(weight)}`,
  );
  return [`${head}: ${PLACEMENT_WORDS[placement.method]}, ${amount}.`, ...holds];
}

function betterLines({ better }: Stock): string[] {
  if (better === null) return [];
  return [
    ...placementLines('A better placement', better),
    '  its values for the control: run again with --fit share-stock',
  ];
}

function offsetLines(stock: Stock): string[] {
  return stock.offsets.map(({ moves, order, pivot, translation, rotationDeg }) => {
    const shift = translation.map((value) => formatFixed(value, 4)).join(', ');
    const turn = rotationDeg.map((value) => formatFixed(value, 4)).join(', ');
    const about = pivot.map((value) => formatFixed(value, 1)).join(', ');
    return `  moves the ${moves}: X, Y, Z ${shift} mm; A, B, C ${turn}° about ${about} (${order})`;
  });
}
