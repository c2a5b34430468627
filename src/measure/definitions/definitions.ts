import { CamberwrightError } from '../../error.ts';
import type { Parameters, Value } from '../../model/value.ts';
import { areaDefinitions } from './area-definitions.ts';
import { camberDefinitions } from './camber-definitions.ts';
import { chordDefinitions } from './chord-definitions.ts';
import type { Definition, MeasuringPlace, ParameterSpec, Quantity } from './definition.ts';
import { edgeFormDefinitions } from './edge-form-definitions.ts';
import { edgeProfileDefinitions } from './edge-profile-definitions.ts';
import { edgeThicknessDefinitions } from './edge-thickness-definitions.ts';
import { pointDefinitions } from './point-definitions.ts';
import { radiusDefinitions } from './radius-definitions.ts';
import { thicknessDefinitions } from './thickness-definitions.ts';
import { throatDefinitions } from './throat-definitions.ts';
import { twistDefinitions } from './twist-definitions.ts';
import { wavinessDefinitions } from './waviness-definitions.ts';

/** Every definition; the first of a quantity is its default. */
export const DEFINITIONS: readonly Definition[] = [
  ...chordDefinitions,
  ...camberDefinitions,
  ...thicknessDefinitions,
  ...areaDefinitions,
  ...throatDefinitions,
  ...pointDefinitions,
  ...radiusDefinitions,
  ...edgeThicknessDefinitions,
  ...edgeFormDefinitions,
  ...edgeProfileDefinitions,
  ...wavinessDefinitions,
  ...twistDefinitions,
];

/** The definitions a quantity may be measured by. */
export function definitionsOf(quantity: Quantity): readonly Definition[] {
  return DEFINITIONS.filter((definition) => definition.quantity === quantity);
}

/** @throws plan/definition when the quantity has no definition of that id */
export function definitionOf(quantity: Quantity, id: string): Definition {
  const found = DEFINITIONS.find((definition) => definition.quantity === quantity && definition.id === id);
  if (found) return found;
  const known = definitionsOf(quantity).map((definition) => definition.id);
  throw new CamberwrightError('plan/definition', `"${id}" is no definition of this quantity (${quantity}).`, {
    remedy: `Use one of ${known.join(', ')}.`,
  });
}

/**
 * Returns the given parameters with defaults filled in.
 * @throws plan/definition for a parameter the definition does not have, of the wrong kind or out of its range
 */
export function completeParameters(definition: Definition, given: Parameters = {}): Parameters {
  const wrong = (message: string, remedy: string) =>
    new CamberwrightError('plan/definition', `${definition.id}: ${message}`, { remedy });
  for (const name of Object.keys(given))
    if (!definition.parameters.some((spec) => spec.name === name)) {
      const known = definition.parameters.map((spec) => spec.name);
      const remedy = known.length > 0 ? `Its parameters are ${known.join(', ')}.` : 'It has no parameters.';
      throw wrong(`there is no parameter "${name}".`, remedy);
    }
  return Object.fromEntries(
    definition.parameters.map((spec) => {
      const value = given[spec.name] ?? spec.default;
      if (!accepts(spec, value)) throw wrong(`${spec.name} cannot be ${JSON.stringify(value)}.`, wanted(spec));
      return [spec.name, value];
    }),
  );
}

function accepts(spec: ParameterSpec, value: Parameters[string]): boolean {
  if ('choices' in spec) return spec.choices.includes(String(value));
  return typeof value === 'number' && value >= spec.least && value <= spec.most;
}

function wanted(spec: ParameterSpec): string {
  if ('choices' in spec) return `Use one of ${spec.choices.join(', ')}.`;
  return `Use a number from ${spec.least} to ${spec.most} ${spec.unit === '1' ? '' : spec.unit}`.trimEnd();
}

/**
 * Returns a quantity measured by the definition of that id.
 * @throws plan/definition for an unknown definition or parameter
 */
export function measureBy(place: MeasuringPlace, quantity: Quantity, id: string, given?: Parameters): Value {
  const definition = definitionOf(quantity, id);
  return definition.measure(place, completeParameters(definition, given));
}
