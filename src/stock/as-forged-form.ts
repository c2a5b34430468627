import { WAVINESS_DEFAULTS } from '../measure/definitions/waviness-definitions.ts';
import { gaussianBandPass } from '../measure/gaussian-profile-filter.ts';
import { slidingPeakToValley, steepestSlope } from '../measure/waviness.ts';
import { flankProfiles } from './flank-profiles.ts';
import type { StockScene } from './stock-scene.ts';

/** Waves and slope of the stock over a zone's flanks with their standard uncertainties; null where there is no profile. */
export interface FlankForm {
  /** Largest height from peak to valley of the waves between the cut-offs (mm). */
  waviness: number | null;
  uWaviness: number;
  /** Steepest mean slope of the stock over the base length. */
  slope: number | null;
  uSlope: number;
}

/** Length over which the slope is taken (mm). */
export const SLOPE_BASE = 2;

/**
 * Returns the form of the calm stock over a zone's flanks, the largest along the outline and along the span. Waves are
 * those between the cut-offs of section waviness (Gaussian, ISO 16610-21), peak to valley in a window of the long one;
 * the slope is that of the whole stock, which the blend into a finished edge has to follow.
 */
export function flankForm(scene: StockScene, zone: number): FlankForm {
  const { short, long } = WAVINESS_DEFAULTS;
  let [waviness, slope] = [Number.NaN, Number.NaN];
  for (const profile of flankProfiles(scene.fine, zone)) {
    const { step, values } = profile;
    const base = Math.max(SLOPE_BASE, step);
    const steepest = steepestSlope(profile, values, base);
    if (!(steepest <= slope) && Number.isFinite(steepest)) slope = steepest;
    if (step * (values.length - 1) <= short) continue;
    const waves = gaussianBandPass(values.length, step, short, long)(values);
    const height = slidingPeakToValley(profile, waves, long);
    if (!(height <= waviness) && Number.isFinite(height)) waviness = height;
  }
  const u = Math.SQRT2 * typicalNoise(scene, zone);
  return {
    waviness: Number.isFinite(waviness) ? waviness : null,
    uWaviness: u,
    slope: Number.isFinite(slope) ? slope : null,
    uSlope: u / SLOPE_BASE,
  };
}

/** Root mean square noise of the calm field: that of a stock cell where it was calmed, of its own cell where not. */
function typicalNoise(scene: StockScene, zone: number): number {
  const { fine, cells, map } = scene;
  let [count, squares] = [0, 0];
  for (let m = 0; m < fine.calm.length; m++) {
    if (fine.zone[m] !== zone || fine.flank[m] === 0 || !Number.isFinite(fine.calm[m])) continue;
    const u = fine.calm[m] === fine.raw[m] ? map.u[m] : cells.uStock[cells.ofMapCell[m]];
    if (!Number.isFinite(u)) continue;
    count++;
    squares += u * u;
  }
  return count > 0 ? Math.sqrt(squares / count) : 0;
}
