import { parameterAtLength } from '../fit/outline-arc-table.ts';
import { outlineFoot } from '../fit/outline-foot.ts';
import { displacementDraws } from '../fit/outline-posterior.ts';
import { normalFrom, seededRandom } from '../math/random.ts';
import { slidingGreatest } from '../math/sliding-greatest.ts';
import { contourAt, contourPoint } from './contour.ts';
import type { FlankName } from './definitions/definition.ts';
import { edgeSetback, outlineLengths } from './edge-setback.ts';
import { gaussianBandPass, type ProfileFilter } from './gaussian-profile-filter.ts';
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

interface KnownTrace {
  nominal: SectionContext;
  band: WavinessBand;
  trace: WavinessTrace | null;
}
const known = new WeakMap<SectionContext, Partial<Record<FlankName, KnownTrace>>>();

/**
 * Returns the waves of a flank: deviation of the fitted outline from the nominal along its normal, edge zones left out,
 * then the Gaussian band-pass. Coordinates are never filtered: that would shrink what is curved. The last one of a flank
 * is kept while its context lives.
 * @returns null where the edge zones leave no flank
 */
export function wavinessTrace(
  nominal: SectionContext,
  measured: SectionContext,
  flank: FlankName,
  band: WavinessBand,
): WavinessTrace | null {
  const kept = known.get(measured) ?? {};
  const last = kept[flank];
  if (last?.nominal === nominal && isSameBand(last.band, band)) return last.trace;
  const trace = traceOf(nominal, measured, flank, band);
  known.set(measured, { ...kept, [flank]: { nominal, band: { ...band }, trace } });
  return trace;
}

function isSameBand(a: WavinessBand, b: WavinessBand): boolean {
  return a.short === b.short && a.long === b.long && a.setback === b.setback;
}

function traceOf(
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
  const feet = new Float64Array(count);
  let guess: number | undefined;
  const deviation = along.map((s, i) => {
    const t = parameterAtLength(table, first ? s : table.perimeter - s);
    contourAt(nominal.section.outline, t, place);
    const hit = alongNormal(measured, guess);
    guess = hit.t;
    feet[i] = hit.t;
    return measured.covered(hit.t, hit.t) ? hit.distance : Number.NaN;
  });
  const pass = gaussianBandPass(count, step, band.short, band.long);
  const waves = pass(deviation);
  const { fitted } = measured.section;
  return {
    step,
    along,
    deviation,
    waves,
    left,
    noise: measured.noise && fitted ? noiseWaves(displacementDraws(fitted, feet), deviation, pass) : null,
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

/** Waves of noise alone: what fresh noise of the points does to the outline through its fit, then the band-pass. */
function noiseWaves(
  draws: (normal: () => number) => Float64Array,
  deviation: Float64Array,
  pass: ProfileFilter,
): (normal: () => number) => Float64Array {
  return (normal) => pass(draws(normal).map((d, i) => (Number.isNaN(deviation[i]) ? Number.NaN : d)));
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
  let sum = 0;
  for (let i = 0; i < waves.length; i++) sum += waves[i] * waves[i];
  return sum;
}

/** Largest difference of the waves within a sliding window (mm), NaN where there are none; extremes by parabolas. */
export function slidingPeakToValley(trace: Pick<WavinessTrace, 'step'>, waves: Float64Array, window: number): number {
  const reach = Math.max(1, Math.floor(window / trace.step + 1e-9));
  const count = waves.length;
  const high = new Float64Array(count);
  const deep = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    high[i] = extremeNear(waves, i, 1);
    deep[i] = -extremeNear(waves, i, -1);
  }
  const [top, bottom] = [slidingGreatest(high, reach), slidingGreatest(deep, reach)];
  let most = Number.NaN;
  for (let i = 0; i < count; i++) {
    if (!Number.isNaN(waves[i]) && !(top[i] + bottom[i] <= most)) most = top[i] + bottom[i];
  }
  return most;
}

/** Value at a sample, or that of the parabola through it and its neighbours where it is a peak (+1) or valley (−1). */
function extremeNear(waves: Float64Array, i: number, sign: 1 | -1): number {
  const b = waves[i];
  if (i === 0 || i === waves.length - 1) return b;
  const a = waves[i - 1];
  const c = waves[i + 1];
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
