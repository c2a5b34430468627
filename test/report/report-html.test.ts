import { describe, expect, test } from 'vitest';
import { CAUTIONS } from '../../src/report/cautions.ts';
import { reportHtml } from '../../src/report/html/report-html.ts';
import { cssString } from '../../src/report/html/report-style.ts';
import { mapLimits } from '../../src/report/svg/map-limits.ts';
import { sectionPlotSvg } from '../../src/report/svg/section-plot.ts';
import { surfaceMapSvg } from '../../src/report/svg/surface-map.ts';
import { VERDICT_WORDS, verdictShape } from '../../src/report/svg/verdict-shape.ts';
import { EXAMPLE_PLAN, exampleResults } from '../support/example-results.ts';

const results = exampleResults();
const html = reportHtml(results, { plan: EXAMPLE_PLAN, date: '2031-04-02' });
const words = html
  .replace(/<style>.*?<\/style>/s, '')
  .replace(/<[^>]+>/g, ' ')
  .replace(/\s+/g, ' ');

/** Every tag closed in the right order; void tags and self-closed ones apart. */
function unbalanced(markup: string): string | null {
  const open: string[] = [];
  for (const [, close, name, , self] of markup.matchAll(/<(\/?)([a-zA-Z][\w-]*)((?:[^>"]|"[^"]*")*?)(\/?)>/g)) {
    if (self || ['meta', 'br'].includes(name)) continue;
    if (!close) open.push(name);
    else if (open.pop() !== name) return name;
  }
  return open.pop() ?? null;
}

test('the answer comes first, before rule and tables', () => {
  const answer = words.indexOf('36 of 45 pass, 6 fail, 2 not proven, 1 not measured.');
  expect(answer).toBeGreaterThan(0);
  expect(answer).toBeLessThan(words.indexOf('Decision rule'));
});

test('holds every part that a report must', () => {
  for (const part of [
    'g = 1.65 × u',
    'u = 0.002 mm (k = 1)',
    'Deviation map',
    'Section 4 at 90.00 mm',
    'Characteristics by height',
    'Zone value V',
    'A gap in the data crosses the largest thickness.',
    'Plays, weakest first',
    'WEAK',
    'other order',
    'Moves the programme (inverse)',
    results.inputs.measured![0].sha256,
    results.inputs.plan!.sha256,
    'section.slab',
    'relate/gap',
    'Inspected by, date',
    'camberwright 0.1.0',
    'issue C',
  ])
    expect(words, part).toContain(part);
  for (const caution of CAUTIONS) expect(words).toContain(caution.head);
});

test('one table row a characteristic, verdict always in words', () => {
  const table = html.slice(html.indexOf('Characteristics</h2>'), html.indexOf('Not measured and not proven</h2>'));
  expect(table.match(/<tr/g)).toHaveLength(results.characteristics!.length + 1);
  for (const row of results.characteristics!) expect(table).toContain(VERDICT_WORDS[row.verdict]);
});

test('needs nothing from outside and runs nothing', () => {
  expect(html).not.toMatch(/<script|\son\w+=|<img|<link|@import|src=|href=/i);
  expect(html.replaceAll('http://www.w3.org/2000/svg', '')).not.toMatch(/https?:/);
});

test('markup is well formed', () => {
  expect(unbalanced(html)).toBeNull();
});

test('ids of patterns are unique in the page', () => {
  const ids = [...html.matchAll(/ id="([^"]+)"/g)].map((match) => match[1]);
  expect(new Set(ids).size).toBe(ids.length);
  for (const [, id] of html.matchAll(/url\(#([^)]+)\)/g)) expect(ids).toContain(id);
});

test('the same results give the same report', () => {
  expect(reportHtml(exampleResults(), { plan: EXAMPLE_PLAN, date: '2031-04-02' })).toBe(html);
});

describe('hostile text', () => {
  const evil = '</style><script>alert("x")</script>';
  const plan = { ...EXAMPLE_PLAN, serial: evil, part: { number: evil } };
  const rows = results.characteristics!.map((row) => ({ ...row, name: evil, reason: evil }));
  const inputs = { ...results.inputs, measured: results.inputs.measured!.map((input) => ({ ...input, name: evil })) };
  const page = reportHtml(
    {
      ...results,
      characteristics: rows,
      inputs,
      settings: { [evil]: evil },
      sections: results.sections.map((s) => ({ ...s, id: evil })),
    },
    { plan },
  );

  test('never becomes markup', () => {
    expect(page).not.toContain('<script');
    expect(page.match(/<\/style>/g)).toHaveLength(1);
    expect(unbalanced(page)).toBeNull();
  });

  test('cannot leave a CSS text', () => {
    expect(cssString('a"b\\c</style>\n')).toBe('"a\\22 b\\5c c\\3c /style>\\a "');
  });
});

test('bare results still make a report', () => {
  const { map: _m, deviation: _d, alignment: _a, trends: _t, characteristics: _c, ...bare } = results;
  const page = reportHtml({ ...bare, answers: {}, sections: [], warnings: [] }, { paper: 'Letter' });
  expect(unbalanced(page)).toBeNull();
  expect(page).toContain('size: Letter');
  expect(page).toContain('No uncertainty of the equipment was stated');
});

test('each picture stands alone with title, key and unit', () => {
  const limits = mapLimits(results);
  const map = surfaceMapSvg(results, { title: 'Map of 7731-B', limits });
  expect(map).toMatch(/^<svg xmlns="http:\/\/www.w3.org\/2000\/svg" viewBox/);
  for (const part of ['Map of 7731-B', 'more than allowed', 'not measured', 'mm along the outline', '10 mm'])
    expect(map).toContain(part);
  expect(unbalanced(map)).toBeNull();
  const plot = sectionPlotSvg(results.sections[0], { title: 'Section', limits, magnification: 50 });
  expect(plot).toContain('×50');
  expect(unbalanced(plot)).toBeNull();
});

test('verdicts have shapes of their own', () => {
  const shapes = (['pass', 'fail', 'not-proven', 'not-measured'] as const).map((verdict) =>
    verdictShape(verdict, 0, 0, 5),
  );
  expect(new Set(shapes.map((shape) => shape.sign)).size).toBe(4);
  expect(shapes.map((shape) => [shape.filled, shape.dashed])).toEqual([
    [false, false],
    [true, false],
    [false, false],
    [false, true],
  ]);
});
