import type { PlanDefinition } from '../../src/model/plan.ts';
import type { MeasureOne } from '../../src/redefine.ts';
import type { WorkerClient } from '../../src/worker/client.ts';
import { type AppState, redefined } from './app-state.ts';
import { edgeRadius, type Trial, type TrialSlot, withDefinition } from './definition-choice.ts';
import { failureFrom } from './failure.ts';
import { shownSection } from './selection.ts';
import type { Store } from './store.ts';

/** What the Sections page asks for: quantities by other definitions, tried first and then used. */
export interface DefinitionSession {
  /** Measures one quantity; the reply appears as the slot's trial. Of many asks only the latest is answered. */
  attempt(slot: TrialSlot, ask: MeasureOne): void;
  forget(slot: TrialSlot): void;
  /** Measures a quantity by another definition from now on, in all sections; an open row is measured again. */
  use(now: PlanDefinition, before: PlanDefinition): Promise<void>;
  /** Ends the following of the store. */
  close(): void;
}

const EDGES = ['leading', 'trailing'] as const;
const SLOTS: readonly TrialSlot[] = ['row', ...EDGES];

/**
 * Follows the store: the definitions are fetched with the first results, and both edges of the section shown are
 * measured as the results do, for their close-ups. Trials run one at a time a slot and are never stopped, since a
 * stopped job may cost the worker what it keeps.
 */
export function createDefinitionSession(store: Store<AppState>, client: WorkerClient): DefinitionSession {
  const running = new Set<TrialSlot>();
  let shown: { results: AppState['results']; section: string | null } = { results: null, section: null };
  let fetching = false;

  const put = (slot: TrialSlot, trial: Trial): void =>
    store.update((s) => ({ ...s, trials: { ...s.trials, [slot]: trial } }));

  async function answer(slot: TrialSlot): Promise<void> {
    if (running.has(slot)) return;
    running.add(slot);
    for (let trial = store.state.trials[slot]; trial && !trial.answered; trial = store.state.trials[slot]) {
      const { ask } = trial;
      const { results } = store.state;
      const done = await client.measure(ask).then(
        (reply) => ({ reply, failure: null }),
        (error: unknown) => ({ reply: null, failure: failureFrom(error) }),
      );
      const now = store.state.trials[slot];
      if (!now || store.state.results !== results) continue;
      put(slot, { ask: now.ask, ...done, answered: now.ask === ask });
    }
    running.delete(slot);
  }

  function attempt(slot: TrialSlot, ask: MeasureOne): void {
    const before = store.state.trials[slot];
    const same = before && before.ask.of === ask.of && before.ask.section === ask.section;
    put(slot, { ask, reply: same ? before.reply : null, answered: false, failure: null });
    void answer(slot);
  }

  async function fetchDefinitions(): Promise<void> {
    fetching = true;
    try {
      const { byOf } = await client.definitions();
      store.update((s) => ({ ...s, definitions: byOf }));
    } catch {
      fetching = false;
    }
  }

  function follow(state: AppState): void {
    const { results, definitions, page } = state;
    if (page !== 'sections' || results === null) return;
    if (definitions === null) {
      if (!fetching) void fetchDefinitions();
      return;
    }
    const section = shownSection(results, state.selection);
    if (section === null || (shown.results === results && shown.section === section.id)) return;
    shown = { results, section: section.id };
    for (const edge of EDGES) {
      const radius = edgeRadius(results, section, edge, definitions);
      if (radius) attempt(edge, { section: section.id, of: radius.of, ...radius.choice });
    }
  }
  const stop = store.subscribe(follow);

  return {
    attempt,
    forget(slot) {
      store.update((s) => ({ ...s, trials: { ...s.trials, [slot]: undefined } }));
    },
    async use(now, before) {
      const slots = SLOTS.filter((slot) => store.state.trials[slot]?.ask.of === now.of);
      const mark = (change: Partial<Trial>): void => {
        for (const slot of slots) {
          const trial = store.state.trials[slot];
          if (trial) put(slot, { ...trial, ...change });
        }
      };
      mark({ answered: false });
      try {
        const { results } = await client.redefine({ definitions: withDefinition(store.state.chosen, now) });
        const open = store.state.trials.row;
        store.update((s) => redefined(s, results, { now, before }));
        if (open) attempt('row', open.ask);
      } catch (error) {
        const failure = failureFrom(error);
        mark({ answered: true, failure });
        store.update((s) => ({ ...s, said: `${failure.message} ${failure.remedy}` }));
      }
    },
    close: stop,
  };
}
