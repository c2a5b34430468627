import { expect, test } from 'vitest';
import { budgetText } from '../../src/report/budget-text.ts';
import { definitionText } from '../../src/report/definition-text.ts';
import { reportHtml } from '../../src/report/html/report-html.ts';
import { EXAMPLE_PLAN, exampleResults } from '../support/example-results.ts';

test.each([
  ['R-LSQ', { halfAngleDeg: 60 }, 'R-LSQ ±60°'],
  ['R-SB', { setback: 0.25 }, 'R-SB 0.25 mm'],
  ['R-OSC', {}, 'R-OSC'],
  ['R-OSC', undefined, 'R-OSC'],
  ['E-AB', { ratio: 0 }, 'E-AB'],
  ['E-AB', { ratio: 3 }, 'E-AB 3 : 1'],
  ['CH-CAM', { extension: 'straight' }, 'CH-CAM straight'],
  ['MA-WIN', { from: 2, to: 12, form: 'quadratic', axis: 'axial' }, 'MA-WIN 2–12 %, quadratic, from axial'],
  ['T-ORD', { from: 'CH-FAR', along: 'chord' }, 'T-ORD from CH-FAR, along chord'],
  ['WAVE-PV', { shortCutOff: 0.8, longCutOff: 8, setback: 0, window: 8 }, 'WAVE-PV 0.8–8 mm, window 8 mm'],
  ['TWIST-FIT', { edges: 'excluded' }, 'TWIST-FIT edges excluded'],
  ['DISPLACEMENT-X', { basis: 'rigid fit', pivotX: -2.5 }, 'DISPLACEMENT-X rigid fit, pivot x −2.5 mm'],
  ['T-MIC', { fraction: 0.3, along: 'centres' }, 'T-MIC along centres'],
  ['THROAT', { pitch: 0, blades: 31, radius: 300, neighbour: '+Y' }, 'THROAT blades 31, radius 300 mm, neighbour +Y'],
  ['CORNERS-2', { separationDeg: 40, prominence: 0.5 }, 'CORNERS-2 separation 40°, prominence 0.5'],
])('%s with %j reads %s', (definition, parameters, text) => {
  expect(definitionText({ definition, parameters })).toBe(text);
});

test('a budget names what is known of it, as U', () => {
  expect(budgetText({ random: 0.003, equipment: 0.002, tipRadius: 0.0005 })).toBe(
    'scatter 0.006, equipment 0.004, tip radius 0.0010',
  );
  expect(budgetText(undefined)).toBe('');
});

test('the report prints definition, parts of U and defects of every row', () => {
  const example = exampleResults();
  const characteristics = example.characteristics!.map((row, i) =>
    i === 0 ? { ...row, definition: 'R-SB', parameters: { setback: 0.25 } } : row,
  );
  const fault = {
    kind: 'flat' as const,
    place: { height: 40, along: 0.1, side: 'leading-edge' as const, point: [0, 0, 40] as [number, number, number] },
    depth: 0.012,
    u: null,
    width: 0.2,
    length: 3,
    points: 60,
    message: 'A flat.',
  };
  const plan = { ...EXAMPLE_PLAN, uncertainty: { equipment: 0.002, tipRadius: 0.001 } };
  const html = reportHtml({ ...example, characteristics, faults: [fault] }, { plan });
  expect(html.match(/R-SB 0\.25 mm/g)).toHaveLength(2);
  expect(html).toContain('of it equipment');
  expect(html).toContain('Stated for the tip radius: u = 0.001 mm');
  expect(html).toContain('leading edge, height 40.0 mm');
  expect(html).toContain('+0.012 mm (U unknown)');
  expect(reportHtml({ ...example, faults: [] })).toContain('<h2>Local defects</h2><p>None found.</p>');
  expect(reportHtml(example)).not.toContain('Local defects');
});
