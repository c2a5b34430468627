import { expect, test } from 'vitest';
import { INITIAL_STATE } from '../../../components/state/app-state.ts';
import { reportSubjects } from '../../../components/state/report-subject.ts';
import { exampleAdapt } from '../../support/example-adapt.ts';
import { exampleBlank } from '../../support/example-blank.ts';
import { exampleResults } from '../../support/example-results.ts';

test('there is nothing to report on before anything is measured', () => {
  expect(reportSubjects(INITIAL_STATE)).toEqual([]);
});

test('part and blank are reported on apart, each with its own files and its own age', () => {
  const reply = exampleBlank();
  const state = {
    ...INITIAL_STATE,
    results: exampleResults(),
    review: { ...INITIAL_STATE.review, reply, stale: 'Files were changed' },
  };
  const [part, blank] = reportSubjects(state);
  expect([part.id, part.stale, blank.id, blank.stale]).toEqual(['part', null, 'blank', 'Files were changed']);
  const file = (ending: string) => blank.outputs.find((output) => output.ending === ending)!.make(blank.results);
  expect(file('short-areas.csv').trim().split('\n')).toHaveLength(1 + blank.results.stock!.areas.length);
  expect(file('stock-map.csv')).toMatch(/^Height mm,Along mm,Side,Stock mm/);
  expect(JSON.parse(file('blank-results.json')).stock.areas).toEqual(blank.results.stock!.areas);
});

test('the report of a blank holds the blade adapted to it', () => {
  const reply = exampleBlank();
  const adapted = exampleAdapt(reply.results);
  const [blank] = reportSubjects({ ...INITIAL_STATE, review: { ...INITIAL_STATE.review, reply, adapted } });
  const json = JSON.parse(blank.outputs.find((output) => output.ending === 'blank-results.json')!.make(blank.results));
  expect(json.adapt.flanks).toEqual(adapted.adapt.flanks);
  expect(json.answers).toEqual({ ...reply.results.answers, adapt: adapted.answer });
});
