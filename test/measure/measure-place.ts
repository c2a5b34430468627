import type { MeasuringPlace, Quantity } from '../../src/measure/definitions/definition.ts';
import { measureBy } from '../../src/measure/definitions/definitions.ts';
import { MEASURE_DEFAULTS } from '../../src/measure/measure-options.ts';
import { type Section, sectionContext } from '../../src/measure/section-context.ts';
import type { Parameters, Value } from '../../src/model/value.ts';

/** Measures one section by definitions. */
export type Measure = (
  quantity: Quantity,
  definition: string,
  parameters?: Parameters,
  where?: Partial<Pick<MeasuringPlace, 'edge' | 'at'>>,
) => Value;

export function measureOf(section: Section): Measure {
  const context = sectionContext(section, MEASURE_DEFAULTS);
  return (quantity, definition, parameters = {}, where = {}) =>
    measureBy(
      { context, edge: null, flank: null, at: null, against: null, ...where },
      quantity,
      definition,
      parameters,
    );
}
