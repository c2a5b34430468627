import { measured, type Parameters, unmeasured, type Value } from '../../model/value.ts';
import { SETBACK } from '../edge-setback.ts';
import { noiseEffect } from '../noise-effect.ts';
import {
  calmWaves,
  slidingPeakToValley,
  steepestSlope,
  type WavinessBand,
  type WavinessTrace,
  wavinessTrace,
} from '../waviness.ts';
import type { Definition, MeasuringPlace, ParameterSpec } from './definition.ts';

/** Cut-offs of the waves where none are chosen (mm). */
export const WAVINESS_DEFAULTS: WavinessBand = { short: 0.8, long: 8, setback: 0 };

const length = (name: string, label: string, value: number): ParameterSpec => ({
  name,
  label,
  unit: 'mm',
  default: value,
  least: 0.01,
  most: 1000,
});

const BAND: readonly ParameterSpec[] = [
  length('shortCutOff', 'Short cut-off', WAVINESS_DEFAULTS.short),
  length('longCutOff', 'Long cut-off', WAVINESS_DEFAULTS.long),
  SETBACK,
];

/** Measures one number of a flank's waves; what noise adds to it on average is taken off. */
function ofWaves(
  id: string,
  unit: 'mm' | '1',
  statistic: (trace: WavinessTrace, waves: Float64Array, parameters: Parameters) => number,
): (place: MeasuringPlace, parameters: Parameters) => Value {
  return ({ context, flank, against }, parameters) => {
    const none = (status: 'not-measured' | 'not-applicable', reason: string) =>
      unmeasured(status, reason, unit, id, { parameters });
    if (!against || !flank) return none('not-applicable', 'Waves are measured against the nominal of a flank.');
    const band: WavinessBand = {
      short: Number(parameters.shortCutOff),
      long: Number(parameters.longCutOff),
      setback: Number(parameters.setback),
    };
    if (band.short >= band.long) return none('not-applicable', 'The short cut-off is not below the long one.');
    const trace = wavinessTrace(against.nominal, context, flank, band);
    if (!trace) return none('not-applicable', 'The edge zones leave no flank.');
    if (trace.waves.some(Number.isNaN)) return none('not-measured', `Points are missing on the ${flank} side.`);
    const raw = statistic(trace, trace.waves, parameters);
    const evidence = {
      raw,
      from: trace.along[0],
      to: trace.along[trace.along.length - 1],
      setbackLeading: trace.left[0],
      setbackTrailing: trace.left[1],
    };
    const { noise } = trace;
    if (!noise) return measured(raw, null, unit, id, { parameters, evidence });
    const calm = calmWaves(trace);
    const { bias, u } = noiseEffect(statistic(trace, calm, parameters), (normal) => {
      const added = noise(normal);
      return statistic(
        trace,
        calm.map((d, i) => d + added[i]),
        parameters,
      );
    });
    return measured(Math.max(0, raw - bias), u, unit, id, { parameters, evidence: { ...evidence, bias } });
  };
}

export const wavinessDefinitions: readonly Definition[] = [
  {
    id: 'WAVE-PV',
    quantity: 'waviness',
    name: 'Peak to valley of the waves',
    meaning:
      'Largest height from peak to valley within a window that slides along the flank, of the deviation between a short ' +
      'and a long cut-off (Gaussian filter). Edge zones are left out; what noise adds on average is taken off.',
    unit: 'mm',
    parameters: [...BAND, length('window', 'Window', WAVINESS_DEFAULTS.long)],
    measure: ofWaves('WAVE-PV', 'mm', (trace, waves, parameters) =>
      slidingPeakToValley(trace, waves, Number(parameters.window)),
    ),
  },
  {
    id: 'WAVE-SLOPE',
    quantity: 'waviness',
    name: 'Steepest slope of the waves',
    meaning:
      'Largest change of the deviation over a base length, divided by it, between a short and a long cut-off (Gaussian ' +
      'filter). Edge zones are left out; what noise adds on average is taken off.',
    unit: '1',
    parameters: [...BAND, length('base', 'Base length', 2)],
    measure: ofWaves('WAVE-SLOPE', '1', (trace, waves, parameters) =>
      steepestSlope(trace, waves, Number(parameters.base)),
    ),
  },
];
