import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { planSchema } from '../../src/model/plan.ts';
import { buildOnce, run } from './run.ts';

beforeAll(buildOnce, 120_000);

const COMMANDS = ['info', 'inspect', 'sections', 'sample', 'open', 'schema', 'definitions'];

describe('help and version', () => {
  test('help lists every command and the exit codes on stdout', async () => {
    const { code, stdout, stderr } = await run(['--help']);
    expect(code).toBe(0);
    expect(stderr).toBe('');
    for (const command of COMMANDS) expect(stdout).toContain(`camberwright ${command} `);
    expect(stdout).toContain('130 interrupted');
  });

  test.each(COMMANDS)('help of %s shows an example', async (command) => {
    const { code, stdout } = await run([command, '-h']);
    expect(code).toBe(0);
    expect(stdout).toContain('Examples:');
  });

  test('version', async () => {
    const { code, stdout } = await run(['--version']);
    expect(code).toBe(0);
    const { version } = JSON.parse(readFileSync('package.json', 'utf8'));
    expect(stdout).toBe(`${version}\n`);
  });
});

describe('wrong usage exits 2, says so on stderr only', () => {
  test.each([
    [[], 'usage/arguments', 'camberwright --help'],
    [['inspct', 'a', 'b'], 'usage/unknown-command', 'Did you mean "camberwright inspect"?'],
    [['inspect', 'a', 'b', '--plann', 'x'], 'usage/unknown-option', 'Did you mean "--plan"?'],
    [['inspect', 'a'], 'usage/arguments', 'at least 2'],
    [['inspect', 'a', 'b', '--unit', 'inches'], 'usage/value', 'Did you mean "inch"?'],
    [['inspect', 'a', 'b', '--leading-edge', '-Z'], 'usage/', 'remedy'],
    [['inspect', 'a', 'b', '--lock', 'z,rw'], 'usage/value', 'x or y or z or rx or ry or rz'],
    [['inspect', 'a', 'b', '--map', 'step'], 'usage/value', 'csv or ply'],
    [['inspect', 'a', 'b', '--threads', '0'], 'usage/value', 'whole number'],
    [['inspect', 'a', './a'], 'usage/same-file', 'each measured file once'],
    [['sections', 'a', '--heights', '10;20'], 'usage/value', 'commas'],
    [['schema', 'plans'], 'usage/value', 'Did you mean "plan"?'],
    [['schema', 'plan', 'results'], 'usage/arguments', 'one argument too many'],
    [['open', '--plan', 'package.json'], 'usage/arguments', 'nominal'],
  ])('%j', async (args, code, hint) => {
    const outcome = await run(args);
    expect(outcome.code).toBe(2);
    expect(outcome.stdout).toBe('');
    expect(outcome.stderr).toContain(`code    ${code}`);
    expect(outcome.stderr).toContain(hint);
  });

  test('a value that begins with a minus is a value', async () => {
    const { code, stderr } = await run(['inspect', 'no-a', 'no-b', '--leading-edge', '-Y', '--heights', '-3,5']);
    expect(code).toBe(3);
    expect(stderr).toContain('load/unreadable');
  });

  test('with --json the error is the one document on stdout', async () => {
    const { code, stdout, stderr } = await run(['info', 'no-such-file', '--unit', 'cm', '--json']);
    expect(code).toBe(2);
    expect(JSON.parse(stdout).error).toMatchObject({ code: 'usage/value', where: '--unit' });
    expect(stderr).toContain('usage/value');
  });
});

describe('schema', () => {
  test('of the plan names every key of a plan and refuses others', async () => {
    const { code, stdout, stderr } = await run(['schema', 'plan']);
    const schema = JSON.parse(stdout);
    expect([code, stderr]).toEqual([0, '']);
    expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
    expect(Object.keys(schema.properties).sort()).toEqual(Object.keys(planSchema.entries).sort());
    expect(schema.additionalProperties).toBe(false);
  });

  test('of the results keeps timing last', async () => {
    const { stdout } = await run(['schema', 'results']);
    expect(Object.keys(JSON.parse(stdout).properties).at(-1)).toBe('timing');
  });
});
