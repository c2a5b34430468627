import type { Parameters, Value } from '../../model/value.ts';
import { unmeasured } from '../../model/value.ts';
import type { EdgeContext, SectionContext } from '../section-context.ts';
import type { Definition, MeasuringPlace, ParameterSpec } from './definition.ts';

type AtEdge = (context: SectionContext, edge: EdgeContext, parameters: Parameters) => Value;
type Head = Omit<Definition, 'measure'>;

/** Returns a definition measured at the edge of the place; not measurable without an edge or a line of centres. */
export function edgeDefinition(head: Head, measure: AtEdge): Definition {
  return {
    ...head,
    measure: (place, parameters) => {
      const edge = place.edge === null ? null : place.context[place.edge];
      if (!edge) return withoutEdge(place, head, parameters);
      return named(head.id, parameters, measure(place.context, edge, parameters));
    },
  };
}

/** Returns the value under the definition's id with its complete parameters. */
export function named(id: string, parameters: Parameters, value: Value): Value {
  return { ...value, definition: id, parameters: { ...value.parameters, ...parameters } };
}

/** Why there is nothing at a place that has no edge. */
export function withoutEdge(place: MeasuringPlace, head: Head, parameters: Parameters): Value {
  const { unit, id } = head;
  return place.edge === null
    ? unmeasured('not-applicable', 'It is measured at an edge.', unit, id, { parameters })
    : unmeasured('not-converged', 'No line of centres was found.', unit, id, { parameters });
}

/** Set-back from an edge as a parameter. */
export function setbackSpec(label: string, usual: number, most = 50): ParameterSpec {
  return { name: 'setback', label, unit: 'mm', default: usual, least: 0.0001, most };
}
