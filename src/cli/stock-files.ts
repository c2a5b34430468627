import type { Drawing } from '../drawing.ts';
import type { Plan } from '../model/plan.ts';
import type { Results } from '../model/results.ts';
import { reportHtml } from '../report/html/report-html.ts';
import { offsetCard, offsetJson } from '../report/offset-card.ts';
import { PLACEMENT_WORDS } from '../report/placement-words.ts';
import { shortAreasCsv } from '../report/short-areas-csv.ts';
import { VERDICT_WORDS } from '../report/svg/verdict-shape.ts';
import { type FileChoice, mapContents, mapNames, resultsText } from './result-files.ts';
import type { OutputFile } from './write-files.ts';

/** Names of the files a review of a blank writes. */
export function stockNames(choice: FileChoice): string[] {
  return ['results.json', 'report.html', 'short-areas.csv', 'offset-card.txt', 'offset.json', ...mapNames(choice)];
}

/** Returns the files of a review in the order of {@link stockNames}. */
export function stockFiles(
  results: Results,
  drawing: Drawing,
  plan: Plan | null,
  choice: FileChoice,
  date: string,
): OutputFile[] {
  const stock = results.stock!;
  const moves = plan?.offset?.moves ?? 'part';
  const offset = stock.offsets.find((each) => each.moves === moves)!;
  const contents = [
    resultsText(results, choice),
    reportHtml(results, { plan, date }),
    shortAreasCsv(stock),
    offsetCard(offset, '.', cardHead(results, plan, date)),
    `${JSON.stringify(offsetJson(offset), null, 1)}\n`,
    ...mapContents(results, drawing, choice),
  ];
  return stockNames(choice).map((name, i) => ({ name, content: contents[i] }));
}

/** What a card is of: part, blank, placement, date, and the answer it stands on. */
function cardHead({ inputs, answers, stock }: Results, plan: Plan | null, date: string): string[] {
  const part = [plan?.part?.number, plan?.part?.name, plan?.serial ? `serial ${plan.serial}` : undefined];
  const named = part.filter((word) => word !== undefined).join(', ');
  const blank = (inputs.measured ?? []).map(({ name }) => name).join(', ');
  return [
    `Part: ${named || 'not named'}   Blank: ${blank}   ${date}`,
    `Placement: ${PLACEMENT_WORDS[stock!.placement.method]}`,
    `${VERDICT_WORDS[answers.stock!.verdict]}: ${answers.stock!.text}`,
  ];
}
