import { describe, expect, it } from 'vitest';
import { type AppState, INITIAL_STATE } from '../../../components/state/app-state.ts';
import { createDefinitionSession } from '../../../components/state/definition-session.ts';
import { createStore } from '../../../components/state/store.ts';
import { CamberwrightError } from '../../../src/error.ts';
import { definitionsByPath } from '../../../src/judge/definitions-by-path.ts';
import type { PlanDefinition } from '../../../src/model/plan.ts';
import type { MeasuredOne, MeasureOne } from '../../../src/redefine.ts';
import type { WorkerClient } from '../../../src/worker/client.ts';
import { exampleResults } from '../../support/example-results.ts';

const settle = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));
const results = exampleResults();
const ask = (halfAngleDeg: number): MeasureOne => ({
  section: '1',
  of: 'leadingEdge.radiusFit',
  definition: 'R-LSQ',
  parameters: { halfAngleDeg },
});

/** A session over a client whose measures wait to be answered one by one. */
function harness(refuse = false) {
  const asked: MeasureOne[] = [];
  const redefined: PlanDefinition[][] = [];
  const waiting: ((one: MeasuredOne) => void)[] = [];
  const client = {
    definitions: async () => ({ byOf: definitionsByPath() }),
    measure: (one: MeasureOne) => {
      asked.push(one);
      return new Promise<MeasuredOne>((resolve) => waiting.push(resolve));
    },
    redefine: async ({ definitions }: { definitions: PlanDefinition[] }) => {
      if (refuse) throw new CamberwrightError('usage/measure', 'Nothing is kept.', { remedy: 'Measure again.' });
      redefined.push(definitions);
      return { results: { ...results } };
    },
  } as unknown as WorkerClient;
  const store = createStore<AppState>({ ...INITIAL_STATE, results });
  const session = createDefinitionSession(store, client);
  const answer = async (): Promise<void> => {
    waiting.shift()!({ nominal: null, measured: null, row: null });
    await settle();
  };
  return { session, store, asked, redefined, answer };
}

describe('trials of definitions', () => {
  it('answer the latest of many asks, one at a time', async () => {
    const { session, store, asked, answer } = harness();
    for (const angle of [50, 51, 52, 53]) session.attempt('row', ask(angle));
    expect(asked).toHaveLength(1);
    await answer();
    expect(store.state.trials.row).toMatchObject({ answered: false });
    expect(asked.map((one) => one.parameters!.halfAngleDeg)).toEqual([50, 53]);
    await answer();
    expect(store.state.trials.row).toMatchObject({ answered: true, ask: ask(53) });
    session.forget('row');
    expect(store.state.trials.row).toBeUndefined();
  });

  it('follow the section shown on the Sections page: both edges as the results measure them', async () => {
    const { store, asked, answer } = harness();
    store.update((s) => ({ ...s, selection: { sectionId: '2' } }));
    await settle();
    expect(asked).toEqual([]);
    store.update((s) => ({ ...s, page: 'sections' }));
    await settle();
    expect(asked.map((one) => [one.section, one.of])).toEqual([
      ['2', 'leadingEdge.radiusFit'],
      ['2', 'trailingEdge.radiusFit'],
    ]);
    await answer();
    await answer();
    store.update((s) => ({ ...s, selection: { ...s.selection, along: 3 } }));
    await settle();
    expect(asked).toHaveLength(2);
    expect(store.state.trials.leading?.answered).toBe(true);
  });

  it('use a definition over all chosen before, remember the earlier one, and drop the trial', async () => {
    const { session, store, redefined } = harness();
    const [first, second] = [ask(40), { of: 'chordFar', definition: 'CH-BT' }].map(({ of, definition }) => ({
      of,
      definition,
    }));
    await session.use(first, { of: first.of, definition: 'R-OSC' });
    await session.use(second, { of: second.of, definition: 'CH-FAR' });
    expect(redefined).toEqual([[first], [first, second]]);
    expect(store.state.chosen).toEqual([first, second]);
    expect(store.state.earlier.map((one) => one.definition)).toEqual(['R-OSC', 'CH-FAR']);
    expect(store.state.trials).toEqual({});
    expect(store.state.said).toContain('CH-BT');
  });

  it('change nothing when the worker refuses, and say why', async () => {
    const { session, store, answer } = harness(true);
    session.attempt('row', { section: '1', of: 'chordFar', definition: 'CH-BT' });
    await answer();
    await session.use({ of: 'chordFar', definition: 'CH-BT' }, { of: 'chordFar', definition: 'CH-FAR' });
    expect(store.state.results).toBe(results);
    expect(store.state.chosen).toEqual([]);
    expect(store.state.trials.row).toMatchObject({ answered: true, failure: { code: 'usage/measure' } });
    expect(store.state.said).toBe('Nothing is kept. Measure again.');
  });
});
