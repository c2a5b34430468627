import type { DefinitionInfo } from '../../src/judge/definition-info.ts';
import type { NumberSpec } from '../plots/foil-edge-closeup.ts';

/** The parameter that says over which angle of normal a curve is fitted; null for a definition without one. */
export function rangeSpec(info: DefinitionInfo): NumberSpec | null {
  const spec = info.parameters.find((one) => 'unit' in one && one.unit === 'deg');
  return spec && 'unit' in spec ? spec : null;
}
