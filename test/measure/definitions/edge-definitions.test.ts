import { describe, expect, it } from 'vitest';
import { completeParameters, definitionsOf, measureBy } from '../../../src/measure/definitions/definitions.ts';
import { measureSection } from '../../../src/measure/measure-section.ts';
import { contextOf } from '../edge-shapes.ts';
import { CAMBERED, diskPoints, sectionOf } from '../shapes.ts';

const QUANTITIES = [
  'edge-radius',
  'edge-ellipse',
  'edge-thickness',
  'edge-form',
  'edge-point-x',
  'edge-point-y',
] as const;
const section = sectionOf(diskPoints(CAMBERED, 700, 300));
const context = contextOf(section);
const all = QUANTITIES.flatMap((quantity) => definitionsOf(quantity).map((definition) => ({ quantity, definition })));
const at = (edge: 'leading' | 'trailing' | null, setback: number | null = 1) => {
  return { context, edge, flank: null, at: setback, against: null };
};

describe('definitions at an edge', () => {
  it.each(all)(
    '$quantity $definition.id records its id, its parameters and where it was measured',
    ({ quantity, definition }) => {
      const parameters = completeParameters(definition);
      for (const edge of ['leading', 'trailing'] as const) {
        const value = definition.measure(at(edge), parameters);
        expect(value.definition).toBe(definition.id);
        expect(value.unit).toBe(definition.unit);
        expect(value.parameters).toMatchObject(parameters);
        expect(value.u).toBeNull();
        if (value.status === 'ok') expect(Object.keys(value.evidence ?? {}).length).toBeGreaterThan(1);
        else expect(value.reason).toBeTruthy();
      }
      const nowhere = measureBy(at(null), quantity, definition.id);
      expect(nowhere).toMatchObject({ status: 'not-applicable', value: null, definition: definition.id });
    },
  );

  it('start with the one in force where nobody chooses', () => {
    const firsts = QUANTITIES.map((quantity) => definitionsOf(quantity)[0].id);
    expect(firsts).toEqual(['R-LSQ', 'E-A', 'T-ORD', 'F-EDGE', 'EP-CAM', 'EP-CAM']);
    const m = measureSection(section).leadingEdge;
    const by = (quantity: (typeof QUANTITIES)[number], id: string) => measureBy(at('leading'), quantity, id).value;
    expect(by('edge-radius', 'R-LSQ')).toBe(m.radiusFit.value);
    expect(by('edge-radius', 'R-OSC')).toBe(m.radiusNose.value);
    expect(by('edge-radius', 'E-AB')).toBe(m.ellipseNoseRadius.value);
    expect(by('edge-ellipse', 'E-A')).toBe(m.ellipseA.value);
    expect(by('edge-thickness', 'T-ORD')).toBe(m.thicknessAt[0].value);
    expect(by('edge-form', 'F-EDGE')).toBe(m.fullness.value);
    expect(by('edge-form', 'FLAT')).toBe(m.flatLength.value);
    expect(by('edge-form', 'ASYM')).toBe(m.asymmetry.value);
    expect(by('edge-point-x', 'EP-CAM')).toBe(m.pointX.value);
  });

  it('refuse what they do not know', () => {
    expect(() => measureBy(at('leading'), 'edge-radius', 'R-LSQ', { halfAngleDeg: 5 })).toThrow('halfAngleDeg');
    expect(() => measureBy(at('leading'), 'edge-radius', 'R-SB', { halfAngleDeg: 60 })).toThrow('no parameter');
    expect(() => measureBy(at('leading'), 'edge-thickness', 'T-CAM', { from: 'hub' })).toThrow('from');
    expect(() => measureBy(at('leading'), 'edge-form', 'R-LSQ')).toThrow('no definition');
  });

  it('say that the greatest curvature is not for conformity', () => {
    const found = definitionsOf('edge-point-x').find((definition) => definition.id === 'EP-CUR');
    expect(found?.meaning).toContain('not for conformity');
  });

  it('need the set-back of a thickness', () => {
    for (const id of ['T-ORD', 'T-CAM', 'T-MIC'])
      expect(measureBy(at('leading', null), 'edge-thickness', id).status).toBe('not-applicable');
  });

  it('are not settled without a line of centres', () => {
    const bare = { ...at('trailing'), context: { ...context, leading: null, trailing: null, line: null } };
    for (const { quantity, definition } of all) {
      const value = measureBy(bare, quantity, definition.id);
      if (definition.id !== 'T-ORD')
        expect(value, definition.id).toMatchObject({ status: 'not-converged', value: null });
      else expect(value.status).toBe('ok');
    }
  });
});
