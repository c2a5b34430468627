import type { Answer, Results } from '../../src/model/results.ts';
import { characteristicsCsv } from '../../src/report/characteristics-csv.ts';
import { mapCsv } from '../../src/report/map-csv.ts';
import { resultsToJson } from '../../src/report/results-json.ts';
import { shortAreasCsv } from '../../src/report/short-areas-csv.ts';
import type { AppState } from './app-state.ts';
import { reportAnswer } from './report-answer.ts';
import { withAdapted } from './review-adapt.ts';

/** A file a report can be sent with. */
export interface ReportOutput {
  label: string;
  ending: string;
  type: string;
  make: (results: Results) => string;
}

/** What a report can be made of: the part as measured, or the blank as reviewed. */
export interface ReportSubject {
  id: 'part' | 'blank';
  label: string;
  results: Results;
  answer: Answer | null;
  /** The change that made it old, in words; null while it is current. */
  stale: string | null;
  outputs: ReportOutput[];
}

const JSON_OUTPUT: ReportOutput = {
  label: 'All results (JSON)',
  ending: 'results.json',
  type: 'application/json',
  make: resultsToJson,
};
const PART_OUTPUTS: ReportOutput[] = [
  {
    label: 'Characteristics (CSV)',
    ending: 'characteristics.csv',
    type: 'text/csv',
    make: (r) => characteristicsCsv(r),
  },
  JSON_OUTPUT,
];
const BLANK_OUTPUTS: ReportOutput[] = [
  { label: 'Short areas (CSV)', ending: 'short-areas.csv', type: 'text/csv', make: (r) => shortAreasCsv(r.stock!) },
  { label: 'Stock map (CSV)', ending: 'stock-map.csv', type: 'text/csv', make: (r) => mapCsv(r) },
  { ...JSON_OUTPUT, ending: 'blank-results.json' },
];

/** Returns what there is to report on, the part first. */
export function reportSubjects(state: AppState): ReportSubject[] {
  const subjects: ReportSubject[] = [];
  const { results, stale, review } = state;
  if (results)
    subjects.push({ id: 'part', label: 'Part', results, answer: reportAnswer(results), stale, outputs: PART_OUTPUTS });
  const blank = review.reply?.results;
  if (blank)
    subjects.push({
      id: 'blank',
      label: 'Blank',
      results: withAdapted(blank, review),
      answer: blank.answers.stock ?? null,
      stale: review.stale,
      outputs: BLANK_OUTPUTS,
    });
  return subjects;
}
