import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { importFault, importsOf, STAGES } from './support/import-rules.ts';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
/** Longest file without a reason at its top. */
const LONGEST = 450;
const MEDIAN = 120;

const files = ['src', 'components', 'samples'].flatMap((folder) =>
  readdirSync(`${ROOT}${folder}`, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .map((name) => {
      const path = `${folder}/${name.replaceAll('\\', '/')}`;
      return { path, text: readFileSync(`${ROOT}${path}`, 'utf8') };
    }),
);
const lines = (text: string) => text.split('\n').length - 1;

describe('the rules themselves', () => {
  test.each([
    ['src/fit/a.ts', '../math/vec3.ts', null],
    ['src/fit/a.ts', '../measure/chord.ts', 'a later stage'],
    ['src/load/a.ts', '../pipeline.ts', 'a later stage'],
    ['src/load/a.ts', '../error.ts', null],
    ['src/math/a.ts', '../../components/foil-app.ts', 'src/ imports src/ only'],
    ['src/math/a.ts', '../other/thing.ts', 'not a stage'],
    ['src/math/a.ts', './vec3', 'a relative import ends in its file ending'],
    ['src/math/a.ts', 'three', 'only under components/, test/'],
    ['src/worker/a.ts', 'node:fs', 'only under src/cli/, test/'],
    ['src/judge/a.ts', 'd3-scale', 'only under components/, src/report/'],
    ['src/cli/a.ts', 'node:fs', null],
    ['components/a.ts', 'lit/decorators.js', null],
    ['samples/a.ts', '../src/judge/decide.ts', 'samples/ may not import this'],
  ])('%s importing %s', (path, specifier, fault) => {
    expect(importFault(path, specifier)).toBe(fault);
  });

  test('imports of every form are seen, comments are not', () => {
    const text = [
      "import a from './a.ts';",
      "import type { B } from './b.ts';",
      "export { c } from './c.ts';",
      "import './d.ts';",
      "const e = await import('./e.ts');",
      "import {\n  f,\n} from './f.ts';",
      "new Worker(new URL('./g.ts', import.meta.url));",
      "// import h from './h.ts';",
    ].join('\n');
    expect(importsOf(text)).toEqual(['./a.ts', './b.ts', './c.ts', './d.ts', './e.ts', './f.ts', './g.ts']);
  });
});

test('every import keeps to the order of stages and to its packages', () => {
  const faults = files.flatMap(({ path, text }) =>
    importsOf(text).flatMap((specifier) => {
      const fault = importFault(path, specifier);
      return fault === null ? [] : [`${path} imports ${specifier}: ${fault}`];
    }),
  );
  expect(faults).toEqual([]);
});

test('src/ holds the stages and its top files, nothing else', () => {
  const folders = readdirSync(`${ROOT}src`, { withFileTypes: true }).filter((entry) => entry.isDirectory());
  expect(folders.map(({ name }) => name).filter((name) => !STAGES.includes(name))).toEqual([]);
});

test('files are short; a long one says why at its top', () => {
  const long = files.filter(({ text }) => lines(text) > LONGEST && !/^\/[/*]/.test(text));
  expect(long.map(({ path }) => path)).toEqual([]);
  const counts = files.map(({ text }) => lines(text)).sort((a, b) => a - b);
  expect(counts[Math.floor(counts.length / 2)]).toBeLessThanOrEqual(MEDIAN);
});

test('types vanish on compile: no enum, no namespace', () => {
  const found = files.filter(({ text }) =>
    /^\s*(export\s+)?(declare\s+)?(const\s+)?(enum|namespace)\s+\w+/m.test(text),
  );
  expect(found.map(({ path }) => path)).toEqual([]);
});

test('elements and their events start with foil-', () => {
  const words = files
    .filter(({ path }) => path.startsWith('components/'))
    .flatMap(({ path, text }) =>
      [
        ...text.matchAll(/@customElement\('([^']+)'\)|customElements\.define\('([^']+)'|new CustomEvent\('([^']+)'/g),
      ].map((match) => `${path}: ${match[1] ?? match[2] ?? match[3]}`),
    );
  expect(words.filter((word) => !word.includes(': foil-'))).toEqual([]);
});
