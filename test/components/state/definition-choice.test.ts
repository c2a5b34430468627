import { describe, expect, it } from 'vitest';
import {
  choiceOfRow,
  edgeRadius,
  planWith,
  sameChoice,
  withDefinition,
} from '../../../components/state/definition-choice.ts';
import { definitionsByPath } from '../../../src/judge/definitions-by-path.ts';
import { planOf } from '../../../src/judge/read-plan.ts';
import { EXAMPLE_PLAN, exampleResults } from '../../support/example-results.ts';

const byOf = definitionsByPath();
const results = exampleResults();
const chosen = [{ of: 'leadingEdge.radiusFit', definition: 'R-LSQ', parameters: { halfAngleDeg: 40 } }];

describe('choice of definitions', () => {
  it('completes parameters by the definition’s defaults', () => {
    const choice = choiceOfRow({ of: 'leadingEdge.radiusFit', definition: 'R-LSQ' }, byOf);
    const spec = byOf['leadingEdge.radiusFit'][0].parameters[0];
    expect(choice).toEqual({ definition: 'R-LSQ', parameters: { [spec.name]: spec.default } });
    expect(sameChoice(choice, { definition: 'R-LSQ', parameters: { halfAngleDeg: 60 } })).toBe(true);
    expect(sameChoice(choice, { definition: 'R-LSQ', parameters: { halfAngleDeg: 61 } })).toBe(false);
    expect(sameChoice(choice, { ...choice, definition: 'R-SB' })).toBe(false);
  });

  it('keeps one entry a path', () => {
    const list = withDefinition(withDefinition(chosen, { of: 'chord', definition: 'CH-BT' }), {
      of: 'chord',
      definition: 'CH-AX',
    });
    expect(list.map((one) => one.definition)).toEqual(['R-LSQ', 'CH-AX']);
  });

  it('writes a plan that reads back, rows of the quantity following, limits kept', () => {
    const own = {
      of: 'leadingEdge.radiusFit',
      definition: 'R-SB',
      parameters: { setback: 0.5 },
      plus: 0.05,
      minus: 0.05,
    };
    const plan = { ...EXAMPLE_PLAN, characteristics: [own, { of: 'chordFar', definition: 'CH-BT' }] };
    const saved = planOf(JSON.parse(JSON.stringify(planWith(plan, chosen))), 'saved plan');
    expect(saved.definitions).toEqual(chosen);
    expect(saved.characteristics).toEqual([
      { of: 'leadingEdge.radiusFit', plus: 0.05, minus: 0.05 },
      { of: 'chordFar', definition: 'CH-BT' },
    ]);
    expect(saved.zones).toEqual(EXAMPLE_PLAN.zones);
    expect(planOf(planWith(null, chosen), 'new plan').definitions).toEqual(chosen);
  });

  it('finds what an edge radius is measured by: its row first, else its value', () => {
    const section = results.sections[0];
    const found = edgeRadius(results, section, 'leading', byOf)!;
    expect(found.of).toBe('leadingEdge.radiusFit');
    expect(found.row?.section).toBe(section.id);
    const none = { ...results, characteristics: [] };
    expect(edgeRadius(none, section, 'trailing', byOf)).toMatchObject({ of: 'trailingEdge.radiusFit', row: null });
    const path = results.characteristics!.map((c) => ({ ...c, of: c.of.replace('radiusFit', 'radius') }));
    expect(edgeRadius({ ...results, characteristics: path }, section, 'leading', byOf)!.of).toBe('leadingEdge.radius');
    expect(edgeRadius(none, { ...section, measured: undefined }, 'leading', byOf)).toBeNull();
  });
});
