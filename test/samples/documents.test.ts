import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { CATALOGUE } from '../../src/judge/catalogue.ts';
import type { Definition, ParameterSpec } from '../../src/measure/definitions/definition.ts';
import { DEFINITIONS } from '../../src/measure/definitions/definitions.ts';
import { markdownTable } from '../support/markdown-table.ts';

// What the documents say of the code. After an intended change of definitions:
// UPDATE_PUBLISHED=1 npx vitest run test/samples/documents.test.ts
const README = new URL('../../README.md', import.meta.url);
const MARKS = ['<!-- definitions:begin -->', '<!-- definitions:end -->'] as const;

function parameterText(spec: ParameterSpec): string {
  if ('choices' in spec) {
    const others = spec.choices.filter((choice) => choice !== spec.default);
    return `${spec.name} = ${spec.default} (or ${others.join(', ')})`;
  }
  const unit = { mm: ' mm', deg: '°', '1': '' }[spec.unit];
  return `${spec.name} = ${spec.default}${unit}`;
}

/** The cells of a definition: with its name the first sentence of its meaning. */
function cellsOf({ id, quantity, name, meaning, parameters }: Definition): string[] {
  const [sentence] = meaning.split(/\.\s/);
  const what = `${name}: ${sentence.replace(/\.$/, '')}.`;
  return [quantity, id, what, parameters.map(parameterText).join('; ')];
}

/** The table of the README, in the order of the code: the first of a quantity is its own. */
function definitionTable(): string {
  return markdownTable(['quantity', 'id', 'meaning', 'parameters, with defaults'], DEFINITIONS.map(cellsOf));
}

test('the README lists every definition as the code has it', () => {
  const text = readFileSync(README, 'utf8');
  const [from, to] = [text.indexOf(MARKS[0]) + MARKS[0].length, text.indexOf(MARKS[1])];
  expect(from).toBeLessThan(to);
  const wanted = `\n\n${definitionTable()}\n\n`;
  if (process.env.UPDATE_PUBLISHED) writeFileSync(README, text.slice(0, from) + wanted + text.slice(to));
  const found = readFileSync(README, 'utf8').split(MARKS[0])[1].split(MARKS[1])[0];
  expect(found).toBe(wanted);
});

test('plans in the README name quantities and definitions there are', () => {
  const blocks = [...readFileSync(README, 'utf8').matchAll(/```json\n([\s\S]*?)```/g)].map(([, text]) => text);
  expect(blocks.length).toBeGreaterThan(0);
  for (const block of blocks) {
    const { definitions = [], characteristics = [] } = JSON.parse(block);
    for (const { of, definition } of [...definitions, ...characteristics]) {
      const entry = CATALOGUE.find((candidate) => candidate.of === of);
      expect(entry, of).toBeDefined();
      const ids = DEFINITIONS.filter(({ quantity }) => quantity === entry!.quantity).map(({ id }) => id);
      if (definition !== undefined) expect(ids).toContain(definition);
    }
  }
});

test('every code named in DEVELOPERS.md is one of the source', () => {
  const folder = new URL('../../src/', import.meta.url);
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.ts'));
  const source = files.map((name) => readFileSync(new URL(name, folder), 'utf8')).join('\n');
  const text = readFileSync(new URL('../../DEVELOPERS.md', import.meta.url), 'utf8');
  const codes = [...text.matchAll(/`((?:usage|plan|load|shape|probe|place|relate|fault|section)\/[a-z-]+)`/g)];
  expect(codes.length).toBeGreaterThan(20);
  for (const [, code] of codes) {
    const short = code.replace('plan/cut-', '');
    expect(source.includes(`'${code}'`) || source.includes(`refuse('${short}'`), code).toBe(true);
  }
});
