import { describe, expect, it } from 'vitest';
import { fitOutline } from '../../src/fit/fit-outline.ts';
import { interpolateOutline } from '../../src/fit/interpolate-outline.ts';
import { findSectionEdges } from '../../src/fit/section-edges.ts';
import { contourAt, contourOf, contourPoint } from '../../src/measure/contour.ts';
import { measureBy } from '../../src/measure/definitions/definitions.ts';
import {
  GAUSS_ALPHA,
  gaussianBandPass,
  gaussianLowPass,
  gaussianTransmission,
} from '../../src/measure/gaussian-profile-filter.ts';
import { MEASURE_DEFAULTS } from '../../src/measure/measure-options.ts';
import { type Section, type SectionContext, sectionContext } from '../../src/measure/section-context.ts';
import { wavinessTrace } from '../../src/measure/waviness.ts';
import type { Parameters, Value } from '../../src/model/value.ts';
import { carriedTo } from './carried.ts';
import { misfit, noisyPoints } from './noisy.ts';
import { CAMBERED, diskPoints, sectionOf } from './shapes.ts';

const gaussianFilter = (values: Float64Array, step: number, cutOff: number) =>
  gaussianLowPass(values.length, step, cutOff)(values);

const amplitudeOf = (values: Float64Array, from: number, to: number) =>
  Math.max(...values.slice(from, to).map(Math.abs));

describe('Gaussian profile filter', () => {
  it('lets half the amplitude pass at the cut-off and the closed form elsewhere', () => {
    expect(gaussianTransmission(0.8, 0.8)).toBeCloseTo(0.5, 14);
    const step = 0.01;
    for (const [cutOff, wavelength] of [
      [0.8, 0.8],
      [0.8, 2.5],
      [2.5, 1.6],
    ]) {
      const sine = Float64Array.from({ length: 4001 }, (_, i) =>
        Math.cos((2 * Math.PI * (i - 2000) * step) / wavelength),
      );
      const middle = gaussianFilter(sine, step, cutOff)[2000];
      const wanted = Math.exp(-Math.PI * ((GAUSS_ALPHA * cutOff) / wavelength) ** 2);
      expect(middle).toBeCloseTo(wanted, 7);
    }
  });

  it('passes straight lines unchanged up to the ends and across holes, and leaves the band nothing of them', () => {
    const line = Float64Array.from({ length: 300 }, (_, i) => (i > 90 && i < 120 ? Number.NaN : 0.3 - 0.002 * i));
    const passed = gaussianFilter(line, 0.1, 8);
    const band = gaussianBandPass(line.length, 0.1, 0.8, 8)(line);
    line.forEach((value, i) => {
      if (Number.isNaN(value)) expect(passed[i]).toBeNaN();
      else {
        expect(passed[i]).toBeCloseTo(value, 12);
        expect(band[i]).toBeCloseTo(0, 12);
      }
    });
  });

  it('filters a complete profile as it does one with a hole far away', () => {
    const profile = Float64Array.from({ length: 240 }, (_, i) => Math.sin(0.3 * i) + 0.001 * i * i);
    const holed = Float64Array.from([...profile, ...new Array(60).fill(Number.NaN), 1, 2]);
    const [whole, part] = [gaussianFilter(profile, 0.1, 5), gaussianFilter(holed, 0.1, 5)];
    for (let i = 0; i < 240; i++) expect(part[i]).toBeCloseTo(whole[i], 10);
  });

  it('gives white noise the gain of its weights', () => {
    const step = 0.01;
    const pulse = new Float64Array(4001);
    pulse[2000] = 1;
    const row = gaussianFilter(pulse, step, 2);
    const gain = row.reduce((sum, w) => sum + w * w, 0);
    expect(gain).toBeCloseTo(step / (Math.SQRT2 * GAUSS_ALPHA * 2), 7);
  });
});

const even = (count: number) => Array.from({ length: count }, (_, i) => i / count);
const base = sectionOf(diskPoints(CAMBERED, 700, 200));
const nominal = sectionContext(base, MEASURE_DEFAULTS);

/** The section with `height(s)` added along its normals, s the length along its outline from the leading edge. */
function waved(height: (s: number) => number): SectionContext {
  const { outline, edges } = base;
  const contour = contourOf(outline);
  const place = contourPoint();
  const points: number[] = [];
  const start = contour.t.findIndex((t) => t >= edges.leading);
  for (let i = 0; i < contour.count; i++) {
    contourAt(outline, contour.t[i], place);
    const s = contour.s[i] - contour.s[start] + (contour.s[i] < contour.s[start] ? contour.perimeter : 0);
    const d = height(s);
    points.push(place.x + d * place.ty, place.y - d * place.tx);
  }
  const moved: Section = { outline: interpolateOutline(Float64Array.from(points)), edges };
  return sectionContext(moved, MEASURE_DEFAULTS);
}

function measure(context: SectionContext, id: string, parameters: Parameters): Value {
  const place = { context, edge: null, at: null, against: { nominal, carried: carriedTo(nominal, context) } };
  return measureBy({ ...place, flank: 'pressure' as const }, 'waviness', id, parameters);
}

describe('waviness of a flank', () => {
  const wavelength = 3;
  const amplitude = 0.01;
  const band = { shortCutOff: 0.8, longCutOff: 8, setback: 2 };
  const passed = gaussianTransmission(0.8, wavelength) * (1 - gaussianTransmission(8, wavelength));
  const sine = waved((s) => amplitude * Math.sin((2 * Math.PI * s) / wavelength));

  it('keeps the closed-form share of a sine in the middle of the flank', () => {
    const trace = wavinessTrace(nominal, sine, 'pressure', { short: 0.8, long: 8, setback: 2 });
    const third = Math.floor((trace?.waves.length ?? 0) / 3);
    expect(amplitudeOf(trace?.waves ?? new Float64Array(), third, 2 * third)).toBeCloseTo(amplitude * passed, 4);
  });

  it('reads twice the share of the amplitude from peak to valley, and the slope of the chord under it', () => {
    // The ends of the flank tell the long cut-off less well than its middle: within 6 %.
    const height = measure(sine, 'WAVE-PV', { ...band, window: 6 }).value as number;
    expect(Math.abs(height / (2 * amplitude * passed) - 1)).toBeLessThan(0.06);
    const slope = measure(sine, 'WAVE-SLOPE', { ...band, base: 1 }).value as number;
    const wanted = 2 * amplitude * passed * Math.abs(Math.sin(Math.PI / wavelength));
    expect(Math.abs(slope / wanted - 1)).toBeLessThan(0.06);
  });

  it('reads nothing from a section that is thicker all round, and from a slope along the flank', () => {
    for (const height of [() => 0.02, (s: number) => 0.001 * Math.min(s, nominal.contour.perimeter - s)])
      expect(measure(waved(height), 'WAVE-PV', { ...band, window: 6 }).value as number).toBeLessThan(1e-5);
  });

  it('takes off what noise adds and states its uncertainty: 4 µm noise, 8 seeds', () => {
    const SIGMA = 0.004;
    const spread = diskPoints(CAMBERED, 500, 150, { flank: even, cap: even });
    for (const [shape, truth] of [
      [sine, measure(sine, 'WAVE-PV', band).value as number],
      [nominal, 0],
    ] as const) {
      const values = Array.from({ length: 8 }, (_, seed) => {
        const fitted = fitOutline(noisyPoints(shape.section.outline, spread, SIGMA, seed + 1), { sigma: SIGMA });
        const edges = findSectionEdges(fitted.outline);
        return measure(sectionContext({ outline: fitted.outline, edges, fitted }, MEASURE_DEFAULTS), 'WAVE-PV', band);
      });
      const ratio = misfit(values, truth);
      expect(ratio).toBeGreaterThan(0.2);
      expect(ratio).toBeLessThan(1.8);
    }
  });

  it('is not applicable to the nominal itself', () => {
    const place = { context: nominal, edge: null, flank: 'pressure' as const, at: null, against: null };
    expect(measureBy(place, 'waviness', 'WAVE-PV').status).toBe('not-applicable');
  });
});
