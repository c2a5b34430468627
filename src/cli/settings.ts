import type { InspectSettings } from '../settings.ts';
import { DIRECTIONS, LOCKS, lengthOf, numbersOf, oneOf, PROBE_POINTS, wordsOf } from './options.ts';

/** Options that change how is measured, as given. */
export interface SettingOptions {
  heights?: string | undefined;
  setbacks?: string | undefined;
  leadingEdge?: string | undefined;
  lock?: string | undefined;
  probe?: string | undefined;
  tipRadius?: string | undefined;
}

/** Returns the settings the options ask for; those not given are left to the plan and the defaults. */
export function settingsOf(options: SettingOptions): Partial<InspectSettings> {
  const settings: Partial<InspectSettings> = {};
  const heights = numbersOf('--heights', options.heights);
  const setbacks = numbersOf('--setbacks', options.setbacks);
  if (heights !== undefined) settings.heights = [...new Set(heights)].sort((a, b) => a - b);
  if (setbacks !== undefined) settings.setbacks = setbacks;
  if (options.leadingEdge !== undefined)
    settings.leadingEdgeTowards = oneOf('--leading-edge', options.leadingEdge, DIRECTIONS);
  if (options.lock !== undefined) settings.locks = wordsOf('--lock', options.lock, LOCKS);
  const tipRadius = lengthOf('--tip-radius', options.tipRadius);
  if (options.probe !== undefined || tipRadius !== undefined) {
    settings.probe = {
      ...(options.probe === undefined ? {} : { points: oneOf('--probe', options.probe, PROBE_POINTS) }),
      ...(tipRadius === undefined ? {} : { tipRadius }),
    };
  }
  return settings;
}
