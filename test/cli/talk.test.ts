import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { createProgress } from '../../src/cli/progress.ts';
import { createTalk, findingText, type TalkOptions, wantsColour } from '../../src/cli/talk.ts';
import { CamberwrightError } from '../../src/error.ts';

function stream(isTTY: boolean) {
  const written: string[] = [];
  return { isTTY, written, write: (text: string) => written.push(text) };
}
const options: TalkOptions = { json: false, quiet: false, verbose: false, progress: 'auto', color: 'auto' };

test('colour: the option first, then NO_COLOR, then the terminal', () => {
  expect(wantsColour('always', { NO_COLOR: '1' }, false)).toBe(true);
  expect(wantsColour('never', {}, true)).toBe(false);
  expect(wantsColour('auto', { NO_COLOR: '1' }, true)).toBe(false);
  expect(wantsColour('auto', { NO_COLOR: '' }, true)).toBe(true);
  expect(wantsColour('auto', { TERM: 'dumb' }, true)).toBe(false);
  expect(wantsColour('auto', {}, false)).toBe(false);
});

test('a finding says what, code, place and remedy', () => {
  const error = new CamberwrightError('load/empty', 'The file is empty.', {
    where: 'a.stl',
    remedy: 'Choose another.',
  });
  expect(findingText('error', error)).toBe(
    'error: The file is empty.\n  code    load/empty\n  where   a.stl\n  remedy  Choose another.',
  );
});

test('data goes to stdout, everything else to stderr; quiet keeps errors', () => {
  const [out, err] = [stream(false), stream(false)];
  const talk = createTalk({ ...options, quiet: true }, out, err);
  talk.print('data');
  talk.note('remark');
  talk.warn({ code: 'w', message: 'm', where: null, remedy: null });
  talk.fail(new CamberwrightError('load/empty', 'Empty.', { remedy: 'r' }));
  expect(out.written).toEqual(['data\n']);
  expect(err.written).toEqual(['error: Empty.\n  code    load/empty\n  remedy  r\n']);
});

describe('progress', () => {
  beforeEach(() => {
    vi.useFakeTimers({ toFake: ['performance'] });
    vi.stubEnv('TERM', 'xterm');
  });
  afterEach(() => {
    vi.useRealTimers();
    vi.unstubAllEnvs();
  });

  test('a line on a terminal, cleared before other text', () => {
    const err = stream(true);
    const talk = createTalk(options, stream(false), err);
    talk.progress({ step: 'read', done: 1, total: 4 });
    talk.note('hello');
    expect(err.written).toEqual(['\r\u001b[Kread 25 %', '\r\u001b[K', 'hello\n']);
  });

  test('nothing in a pipe', () => {
    const err = stream(false);
    createProgress('auto', err).show({ step: 'read', done: 1, total: 4 });
    expect(err.written).toEqual([]);
  });

  test('json: one line a report, at most ten a second, never without the end of a step', () => {
    const err = stream(false);
    const { show } = createProgress('json', err);
    for (let done = 0; done <= 100; done++) {
      show({ step: 'read', done, total: 100 });
      vi.advanceTimersByTime(5);
    }
    const reports = err.written.map((line) => JSON.parse(line));
    expect(reports[0]).toEqual({ step: 'read', done: 0, total: 100 });
    expect(reports.at(-1)).toEqual({ step: 'read', done: 100, total: 100 });
    expect(reports).toHaveLength(6);
  });
});
