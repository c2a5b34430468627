import type { Plan } from '../../model/plan.ts';
import type { Results } from '../../model/results.ts';
import { CAUTIONS } from '../cautions.ts';
import { formatFixed, percentText, withUnit } from '../format-number.ts';
import { PLACEMENT_WORDS } from '../placement-words.ts';
import { type Html, sectionHtml, termsHtml, text, verdictHtml } from './html-parts.ts';
import { adaptHtml } from './report-adapt.ts';
import { alignmentHtml } from './report-alignment.ts';
import { faultTable, uncertaintyTable } from './report-details.ts';
import { mapFigure, sectionFigures, trendFigures } from './report-figures.ts';
import { ruleHtml } from './report-rule.ts';
import { offsetTable, shortAreaTable, stockPlacementTable, stockTerms, stockZoneTable } from './report-stock.ts';
import { type Paper, reportStyle } from './report-style.ts';
import {
  characteristicTable,
  coverageTable,
  inputTable,
  openTable,
  settingTable,
  warningTable,
  zoneTable,
} from './report-tables.ts';

export interface ReportOptions {
  /** The plan the results were judged by; gives part, serial, issue, rule and datums. */
  plan?: Plan | null;
  /** ISO 8601; left out when the report must not depend on the day. */
  date?: string;
  operator?: string;
  paper?: Paper;
}

/**
 * The report as one self-contained HTML document without script: answer first, then rule and uncertainty, map, sections,
 * trends, tables, placement, inputs, settings, warnings, cautions, signatures. Made for print on A4 or Letter; reads in
 * black and white.
 */
export function reportHtml(results: Results, options: ReportOptions = {}): string {
  const plan = options.plan ?? null;
  const name = [
    plan?.part?.number ? `part ${plan.part.number}` : null,
    plan?.serial ? `serial ${plan.serial}` : null,
    plan?.part?.issue ? `issue ${plan.part.issue}` : null,
    options.date ?? null,
  ].filter((piece) => piece !== null);
  const kind = results.stock ? 'Review of a blank' : 'Inspection report';
  const title = [kind, ...name].join(', ');
  const body = [
    `<h1>${text([kind, plan?.part?.name].filter(Boolean).join(': '))}</h1>`,
    headTerms(results, options, plan),
    answerHtml(results),
    sectionHtml('Decision rule and uncertainty', ruleHtml(results, plan)),
    ...stockSections(results),
    sectionHtml('Surface', zoneTable(results) + deviationTerms(results) + mapFigure(results)),
    sectionHtml('Characteristics', characteristicTable(results)),
    sectionHtml('Not measured and not proven', openTable(results)),
    sectionHtml('Definitions and uncertainty', uncertaintyTable(results)),
    sectionHtml('Local defects', faultTable(results)),
    sectionHtml('Over the span', trendFigures(results) + trendTerms(results)),
    sectionHtml('Sections', sectionFigures(results)),
    sectionHtml('Coverage', coverageTable(results)),
    sectionHtml('Placement', results.alignment ? alignmentHtml(results.alignment) : ''),
    sectionHtml('Inputs', inputTable(results)),
    sectionHtml('Warnings', warningTable(results) || '<p>None.</p>'),
    sectionHtml('Settings', settingTable(results)),
    sectionHtml('Cautions', CAUTIONS.map((one) => `<p><b>${text(one.head)}.</b> ${text(one.text)}</p>`).join('')),
    sectionHtml('Remarks and signatures', signHtml()),
  ];
  return (
    `<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>${text(title)}</title>` +
    `<meta name="viewport" content="width=device-width"><meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">` +
    `<style>${reportStyle(options.paper ?? 'A4', name.length ? name.join(' · ') : 'part not named')}</style></head>` +
    `<body>${body.join('\n')}</body></html>\n`
  );
}

/** The pages of a blank's review; none for a finished part. */
function stockSections({ stock, adapt }: Results): Html[] {
  if (!stock) return [];
  return [
    sectionHtml('Stock', stockTerms(stock) + stockZoneTable(stock)),
    sectionHtml('Short of stock', shortAreaTable(stock)),
    sectionHtml('Placements compared', stockPlacementTable(stock)),
    sectionHtml(`Work offset: ${PLACEMENT_WORDS[stock.placement.method]}`, offsetTable(stock.offsets)),
    sectionHtml(adapt?.method === 'offset-field' ? 'Adapted blade' : 'Adapted edges', adapt ? adaptHtml(adapt) : ''),
  ];
}

function headTerms(results: Results, options: ReportOptions, plan: Plan | null): Html {
  return termsHtml([
    ['Part', [plan?.part?.number, plan?.part?.name].filter(Boolean).join(', ') || 'not named'],
    ['Serial', plan?.serial ?? 'not stated'],
    ['Drawing issue', plan?.part?.issue],
    ['Date', options.date],
    ['Inspector', options.operator],
    ['Made with', `${results.tool.name} ${results.tool.version}`],
  ]);
}

function answerHtml(results: Results): Html {
  const { stock, adapt, sections, part } = results.answers;
  const answers = [stock, adapt, sections, part].filter((answer) => answer !== undefined);
  const lines = answers.map(
    (answer) => `<p><b>${verdictHtml(answer.verdict)}</b><span>${text(answer.text)}</span></p>`,
  );
  return lines.length ? `<div class="answer">${lines.join('')}</div>` : '';
}

function deviationTerms(results: Results): Html {
  const { deviation } = results;
  if (!deviation) return '';
  const mm = (value: number) => formatFixed(value, 4, { signed: true });
  const { p1, p5, p50, p95, p99 } = deviation.percentiles;
  return termsHtml([
    ['Measured', `${percentText(deviation.coverage)} of the nominal area, ${deviation.count} points`],
    ['Mean, rms', `${mm(deviation.mean)} mm, ${formatFixed(deviation.rms, 4)} mm`],
    ['Percentiles 1, 5, 50, 95, 99', `${[p1, p5, p50, p95, p99].map(mm).join(', ')} mm`],
    [
      'Single points, not averaged',
      `${mm(deviation.min)} to ${mm(deviation.max)} mm; ${deviation.outliers.count} stand out from their neighbours`,
    ],
    ['Sign', 'positive: material outside nominal'],
  ]);
}

function trendTerms(results: Results): Html {
  const { trends } = results;
  if (!trends) return '';
  const shown = ({ value, u, unit }: { value: number | null; u: number | null; unit: string }) =>
    value === null
      ? 'not measured'
      : `${withUnit(formatFixed(value, 3, { signed: true }), unit)}${u === null ? '' : `, U ${withUnit(formatFixed(2 * u, 3), unit)}`}`;
  return termsHtml([
    ['Bow', `${shown(trends.bow)} (${trends.bowReference})`],
    ['Lean', shown(trends.leanDeg)],
    ['Sweep', shown(trends.sweepDeg)],
    ['Untwist', shown(trends.untwistDeg)],
  ]);
}

function signHtml(): Html {
  const lines = ['Inspected by, date', 'Reviewed by (authorised quality review), date'];
  return `<div class="sign"><div class="wide">Remarks</div>${lines.map((line) => `<div>${line}</div>`).join('')}</div>`;
}
