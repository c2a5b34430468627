import { parameterAtLength } from '../fit/outline-arc-table.ts';
import { outlineFoot } from '../fit/outline-foot.ts';
import { normalFrom, seededRandom } from '../math/random.ts';
import { contourAt, contourPoint } from './contour.ts';
import type { FlankName } from './definitions/definition.ts';
import { edgeSetback, outlineLengths } from './edge-setback.ts';
import { GAUSS_ALPHA, gaussianBand } from './gaussian-profile-filter.ts';
import type { SectionContext } from './section-context.ts';

/** Cut-offs of the waves, and the set-back of the edge zones left out (0: the default); mm. */
export interface WavinessBand {
  short: number;
  long: number;
  setback: number;
}

/** Waves of one flank, equally spaced along the nominal outline from the leading towards the trailing edge. */
export interface WavinessTrace {
  step: number;
  /** Length from the nominal's leading edge (mm), always positive. */
  along: Float64Array;
  /** Deviation of the measured outline along the nominal's normal (mm), NaN in gaps. */
  deviation: Float64Array;
  /** Its waves between the cut-offs (mm), NaN in gaps. */
  waves: Float64Array;
  /** Returns the waves that noise of the measured outline makes by itself; null without noise. */
  noise: ((normal: () => number) => Float64Array) | null;
  /** Set-backs left out at the leading and trailing edge (mm). */
  left: [leading: number, trailing: number];
}

const VARIANCE_DRAWS = 8;
/** Samples to a short cut-off. */
const SAMPLES = 8;
const MOST_SAMPLES = 4000;
const place = contourPoint();
const ray = contourPoint();

/**
 * Returns the waves of a flank: deviation of the fitted outline from the nominal along its normal, edge zones left out,
 * then the Gaussian band-pass. Coordinates are never filtered: that would shrink what is curved.
 * @returns null where the edge zones leave no flank
 */
export function wavinessTrace(
  nominal: SectionContext,
  measured: SectionContext,
  flank: FlankName,
  band: WavinessBand,
): WavinessTrace | null {
  const left: [number, number] = [
    edgeSetback(nominal, 'leading', band.setback),
    edgeSetback(nominal, 'trailing', band.setback),
  ];
  const { table, trailing } = outlineLengths(nominal);
  const first = nominal.section.edges.firstSide === flank;
  const whole = first ? trailing : table.perimeter - trailing;
  const length = whole - left[0] - left[1];
  if (!(length > band.short)) return null;
  const count = Math.min(MOST_SAMPLES, Math.ceil((SAMPLES * length) / band.short)) + 1;
  const step = length / (count - 1);
  const along = Float64Array.from({ length: count }, (_, i) => left[0] + i * step);
  const spread = new Float64Array(count);
  const window = new Float64Array(count);
  const { noise } = measured;
  let guess: number | undefined;
  const deviation = along.map((s, i) => {
    const t = parameterAtLength(table, first ? s : table.perimeter - s);
    contourAt(nominal.section.outline, t, place);
    const hit = alongNormal(measured, guess);
    guess = hit.t;
    if (!measured.covered(hit.t, hit.t)) return Number.NaN;
    if (noise) {
      window[i] = noise.window(hit.t);
      spread[i] = noise.at(hit.t) * Math.sqrt(window[i] / step);
    }
    return hit.distance;
  });
  const waves = gaussianBand(deviation, step, band.short, band.long);
  return {
    step,
    along,
    deviation,
    waves,
    left,
    noise: noise ? (normal) => noiseWaves(deviation, spread, window, step, band, normal) : null,
  };
}

/** Parameter and distance at which the normal of `place` meets the measured outline; Newton from the nearest point. */
function alongNormal(measured: SectionContext, guess: number | undefined): { t: number; distance: number } {
  const { outline } = measured.section;
  let { t } = outlineFoot(outline, place.x, place.y, guess);
  for (let turn = 0; turn < 8; turn++) {
    contourAt(outline, t, ray);
    const aside = (ray.x - place.x) * place.tx + (ray.y - place.y) * place.ty;
    const rate = (ray.tx * place.tx + ray.ty * place.ty) * ray.speed;
    t -= aside / rate;
    if (Math.abs(aside) < 1e-13 * outline.period) break;
  }
  contourAt(outline, t, ray);
  return { t, distance: (ray.x - place.x) * place.ty - (ray.y - place.y) * place.tx };
}

/**
 * Waves of noise alone: white noise of the points' density, smoothed as much as the outline's own fit does (a Gaussian
 * with the same gain for white noise), then the band-pass.
 */
function noiseWaves(
  deviation: Float64Array,
  spread: Float64Array,
  window: Float64Array,
  step: number,
  band: WavinessBand,
  normal: () => number,
): Float64Array {
  const white = deviation.map((d, i) => (Number.isNaN(d) ? d : spread[i] * normal()));
  const middle = Array.from(window).sort((a, b) => a - b)[window.length >> 1];
  const own = middle / (Math.SQRT2 * GAUSS_ALPHA);
  return gaussianBand(white, step, Math.hypot(band.short, own), band.long);
}

/** Returns the waves shrunk to the power they have beyond that of their noise: without waves of the part, to nothing. */
export function calmWaves({ waves, noise }: WavinessTrace): Float64Array {
  if (!noise) return waves;
  const normal = normalFrom(seededRandom(VARIANCE_DRAWS));
  let added = 0;
  for (let draw = 0; draw < VARIANCE_DRAWS; draw++) added += power(noise(normal)) / VARIANCE_DRAWS;
  const scale = Math.sqrt(Math.max(0, 1 - added / power(waves)));
  return waves.map((d) => scale * d);
}

function power(waves: Float64Array): number {
  return waves.reduce((sum, d) => sum + d * d, 0);
}

/** Largest difference of the waves within a sliding window (mm), NaN where there are none; extremes by parabolas. */
export function slidingPeakToValley(trace: Pick<WavinessTrace, 'step'>, waves: Float64Array, window: number): number {
  const reach = Math.max(1, Math.floor(window / trace.step + 1e-9));
  const high = waves.map((_, i) => extremeNear(waves, i, 1));
  const low = waves.map((_, i) => extremeNear(waves, i, -1));
  let most = Number.NaN;
  for (let i = 0; i < waves.length; i++) {
    if (Number.isNaN(waves[i])) continue;
    let [top, bottom] = [high[i], low[i]];
    for (let k = 1; k <= reach && i + k < waves.length; k++) {
      if (high[i + k] > top) top = high[i + k];
      if (low[i + k] < bottom) bottom = low[i + k];
    }
    if (!(top - bottom <= most)) most = top - bottom;
  }
  return most;
}

/** Value at a sample, or that of the parabola through it and its neighbours where it is a peak (+1) or valley (−1). */
function extremeNear(waves: Float64Array, i: number, sign: 1 | -1): number {
  const [a, b, c] = [waves[i - 1], waves[i], waves[i + 1]];
  const bend = a - 2 * b + c;
  if (!(sign * (b - a) >= 0 && sign * (b - c) >= 0 && sign * bend < 0)) return b;
  return b - ((c - a) * (c - a)) / (8 * bend);
}

/** Steepest mean slope of the waves over a base length, max |w(s + L) − w(s)| / L; NaN where there is none. */
export function steepestSlope(trace: Pick<WavinessTrace, 'step'>, waves: Float64Array, base: number): number {
  const shift = base / trace.step;
  const whole = Math.floor(shift);
  const part = shift - whole;
  let most = Number.NaN;
  for (let i = 0; i + whole + (part > 0 ? 1 : 0) < waves.length; i++) {
    const ahead = part > 0 ? (1 - part) * waves[i + whole] + part * waves[i + whole + 1] : waves[i + whole];
    const slope = Math.abs(ahead - waves[i]) / base;
    if (!Number.isNaN(slope) && !(slope <= most)) most = slope;
  }
  return most;
}
