import { WAVINESS_DEFAULTS } from '../measure/definitions/waviness-definitions.ts';
import { gaussianBandPass } from '../measure/gaussian-profile-filter.ts';
import { noiseEffect } from '../measure/noise-effect.ts';
import { slidingPeakToValley, steepestSlope } from '../measure/waviness.ts';
import { type FlankProfile, flankProfiles } from './flank-profiles.ts';
import type { StockScene } from './stock-scene.ts';

/** A number of a flank's form, what noise adds to it on average taken off, with its standard uncertainty; null without. */
export interface FormNumber {
  value: number | null;
  u: number;
}

/** Length over which the slope is taken, and width of the strips the stock is averaged over (mm). */
export const SLOPE_BASE = 2;
const STRIP_WIDTH = 4;

/** Returns the profiles of a zone's flanks that waves and slope are taken from. */
export function formProfiles(scene: StockScene, zone: number): FlankProfile[] {
  return flankProfiles(scene.fine, scene.map.u, zone, STRIP_WIDTH);
}

/**
 * Returns the largest height of the waves of the stock along the outline and the span (mm), those between the cut-offs of
 * section waviness (Gaussian, ISO 16610-21), peak to valley in a window of the long one.
 */
export function flankWaves(profiles: readonly FlankProfile[]): FormNumber {
  const { short, long } = WAVINESS_DEFAULTS;
  const passed = profiles.filter(({ step, raw }) => step * (raw.length - 1) > short);
  const filters = passed.map(({ step, raw }) => gaussianBandPass(raw.length, step, short, long));
  return largest(passed, (profile, values, i) => slidingPeakToValley(profile, filters[i](values), long));
}

/** Returns the steepest mean slope of the stock along the surface, which the blend into a finished edge has to follow. */
export function flankSlope(profiles: readonly FlankProfile[]): FormNumber {
  return largest(profiles, (profile, values) => steepestSlope(profile, values, Math.max(SLOPE_BASE, profile.step)));
}

/** The largest of a statistic over profiles, corrected for noise. */
function largest(
  profiles: readonly FlankProfile[],
  statistic: (profile: FlankProfile, values: Float64Array, index: number) => number,
): FormNumber {
  const most = (valuesOf: (profile: FlankProfile) => Float64Array): number =>
    profiles.reduce((found, profile, i) => {
      const value = statistic(profile, valuesOf(profile), i);
      return Number.isFinite(value) ? Math.max(found, value) : found;
    }, Number.NEGATIVE_INFINITY);
  const raw = most(({ raw: values }) => values);
  if (!Number.isFinite(raw)) return { value: null, u: 0 };
  const calm = most(({ calm: values }) => values);
  const { bias, u } = noiseEffect(calm, (normal) => most((profile) => withNoise(profile, normal)));
  return { value: Math.max(0, raw - bias), u };
}

function withNoise({ calm, noise }: FlankProfile, normal: () => number): Float64Array {
  return calm.map((value, i) => value + noise[i] * normal());
}
