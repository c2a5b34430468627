import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { resultsSchema } from '../../src/model/results.ts';
import { reportHtml } from '../../src/report/html/report-html.ts';
import { exampleAdapt, refusedAdapt } from '../support/example-adapt.ts';
import { exampleBlank } from '../support/example-blank.ts';

const { results } = exampleBlank();

function pageOf({ adapt, answer }: ReturnType<typeof exampleAdapt>): string {
  const whole = { ...results, adapt, answers: { ...results.answers, adapt: answer } };
  return reportHtml(v.parse(resultsSchema, whole));
}
const wordsOf = (html: string): string =>
  html
    .replace(/<style>.*?<\/style>/s, '')
    .replace(/<[^>]+>/g, ' ')
    .replace(/\s+/g, ' ');
const partOf = (html: string, head: string): string => {
  const from = html.indexOf(`<h2>${head}</h2>`);
  return from < 0 ? '' : html.slice(from, html.indexOf('</section>', from));
};

describe('the report of an adapted blade', () => {
  const reply = exampleAdapt(results);
  const html = pageOf(reply);
  const part = partOf(html, 'Adapted edges');
  const words = wordsOf(part);

  it('answers in the answer box, after the stock', () => {
    const box = wordsOf(html.slice(html.indexOf('<div class="answer">'), html.indexOf('Decision rule')));
    expect(box).toContain('The suction side stays as forged');
    expect(box.indexOf(results.answers.stock!.text)).toBeLessThan(box.indexOf(reply.answer.text));
  });

  it('says what stays, holds every check, and lists every edge of every section', () => {
    expect(words).toContain('suction side stays as forged Within both profile limits.');
    expect(words).toContain('pressure side is cut The plan has the flanks cut to nominal.');
    expect(words).toContain('Chord off the nominal 0.0021 mm 0.0100 mm section 2 Pass');
    expect(words).toContain('not rise to the nose (edges) 1 0 section 1, trailing edge Not proven');
    expect(words).toContain('Flanks and cut metal measured 99.8 % 95.0 %');
    const rows = part.match(/<tr/g)!.length;
    expect(rows).toBe(1 + reply.adapt.checks.length + 1 + 2 * results.sections.length);
    expect(words).toContain('1.200 / 1.000');
    expect(words).toContain('0.815 / 0.812');
    expect(words).toContain('most +0.050 mm at 60.0 mm height, suction side; least −0.003 mm');
  });

  it('says why it is refused, once for all sections of one reason', () => {
    const refused = wordsOf(partOf(pageOf(refusedAdapt(results)), 'Adapted edges'));
    expect(refused).toContain(results.sections.map(({ id }) => id).join(', '));
    expect(refused.match(/The form cannot be made/g)).toHaveLength(2);
  });

  it('is left out where nothing was adapted', () => {
    expect(partOf(reportHtml(results), 'Adapted edges')).toBe('');
  });
});

describe('the report of a blank', () => {
  it('calls a zone that may not stay as forged to be cut, not failed', () => {
    const html = reportHtml({
      ...results,
      stock: { ...results.stock!, zones: results.stock!.zones.map((zone) => ({ ...zone, verdict: 'pass' as const })) },
    });
    const words = wordsOf(partOf(html, 'Stock'));
    expect(html).toContain('<title>Review of a blank');
    expect(words.match(/Is to be cut Stock differs/g)).toHaveLength(results.stock!.zones.length);
    expect(words).not.toContain('FAIL');
  });
});
