import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import * as v from 'valibot';
import { expect, test } from 'vitest';
import { sampleSet } from '../../samples/generate.ts';
import { readPlan } from '../../src/judge/read-plan.ts';
import { sourceFromBytes } from '../../src/load/byte-source.ts';
import { readShape } from '../../src/load/read-shape.ts';
import { type Results, resultsSchema } from '../../src/model/results.ts';
import { inspect } from '../../src/pipeline.ts';
import { resultsToJson } from '../../src/report/results-json.ts';
import { planJsonSchema, resultsJsonSchema } from '../../src/report/results-schema.ts';

// The published example and schemas. After an intended change: UPDATE_PUBLISHED=1 npx vitest run test/samples/published.test.ts
const FOLDER = new URL('../../samples/expected/', import.meta.url);

async function exampleResults(): Promise<{ results: Results; plan: string }> {
  const files = new Map(sampleSet().map((file) => [file.name, file.bytes]));
  const open = (name: string) => readShape(sourceFromBytes(name, files.get(name)!), {}, {});
  const plan = new TextDecoder().decode(files.get('plan.json'));
  const [nominal, scan] = await Promise.all([open('nominal-sections.csv'), open('finished-scan.ply')]);
  const { results } = await inspect(
    {
      nominal,
      measured: [scan],
      plan: { name: 'plan.json', sha256: '0'.repeat(64), plan: readPlan(plan, 'plan.json') },
      settings: { heights: [12, 60, 102], mapCell: 6 },
    },
    {},
  );
  return { results: { ...results, timing: {} }, plan };
}

/** The document with its numbers cut to a nanometre, below which engines may differ. */
function rounded(text: string): unknown {
  return JSON.parse(text, (_, value) => (typeof value === 'number' ? Number(value.toFixed(6)) : value));
}

function published(name: string, text: string): string {
  const url = new URL(name, FOLDER);
  if (process.env.UPDATE_PUBLISHED) writeFileSync(url, text);
  expect(existsSync(url), `${name} is committed`).toBe(true);
  return readFileSync(url, 'utf8');
}

test('the published example is what the tool writes, and holds to the published schema', async () => {
  const { results, plan } = await exampleResults();
  const text = resultsToJson(results);
  expect(rounded(published('results.json', text))).toEqual(rounded(text));
  v.parse(resultsSchema, JSON.parse(published('results.json', text)));
  expect(published('plan.json', plan)).toBe(plan);
});

test('the published schemas are those the tool prints', () => {
  const results = `${JSON.stringify(resultsJsonSchema(), null, 2)}\n`;
  const plan = `${JSON.stringify(planJsonSchema(), null, 2)}\n`;
  expect(published('results.schema.json', results)).toBe(results);
  expect(published('plan.schema.json', plan)).toBe(plan);
});
