import { expect, test } from 'vitest';
import { SAMPLE_NICK } from '../../samples/scenario.ts';
import { exampleFiles } from '../../src/worker/example.ts';

test('the example comes with its files and with what was planted, the nick among it', () => {
  const { files, truths } = exampleFiles('finished');
  expect(files.map(({ role }) => role).sort()).toEqual(['measured', 'nominal', 'plan']);
  const nick = truths.find(({ of }) => of === 'nick');
  expect(nick).toMatchObject({ height: SAMPLE_NICK.height, value: -SAMPLE_NICK.depth, unit: 'mm' });
  expect(truths.every(({ value }) => Number.isFinite(value))).toBe(true);
});
