import * as v from 'valibot';
import { partAnswer, sectionsAnswer } from '../../src/judge/answers.ts';
import { judgeCharacteristics } from '../../src/judge/characteristics.ts';
import { planOf } from '../../src/judge/read-plan.ts';
import { edgeReach, judgeZones } from '../../src/judge/zones.ts';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import type { Plan } from '../../src/model/plan.ts';
import {
  type DeviationMap,
  type Results,
  resultsSchema,
  type SectionResult,
  type Trends,
} from '../../src/model/results.ts';
import { measured } from '../../src/model/value.ts';
import { exampleMeasures } from './example-measures.ts';
import { type ExampleOutline, exampleOutline } from './example-section.ts';

const ROWS = 40;
const COLUMNS = 120;
const SPAN = 120;
const NOISE = 0.002;

/** Plan of the example blade. */
export const EXAMPLE_PLAN: Plan = planOf(
  {
    schema: 'camberwright/plan',
    schemaVersion: 1,
    part: { number: '7731-B', name: 'Compressor blade', issue: 'C' },
    serial: '0147',
    setbacks: [2],
    zones: [
      { name: 'leading edge', side: 'leading-edge', plus: 0.05, minus: 0.05 },
      { name: 'trailing edge', side: 'trailing-edge', plus: 0.06, minus: 0.06 },
      { name: 'suction side', side: 'suction', plus: 0.08, minus: 0.05 },
      { name: 'pressure side', side: 'pressure', plus: 0.08, minus: 0.05 },
    ],
    characteristics: [
      { of: 'chordFar', plus: 0.1, minus: 0.1 },
      { of: 'thicknessMax', plus: 0.06, minus: 0.06 },
      { of: 'leadingEdge.radiusFit', plus: 0.05, minus: 0.05 },
      { of: 'trailingEdge.radiusFit', plus: 0.05, minus: 0.05 },
      { of: 'leadingEdge.thicknessAt', at: 2, plus: 0.08, minus: 0.08 },
      { of: 'twistFitDeg', plus: 0.25, minus: 0.25 },
      { of: 'displacementX', plus: 0.1, minus: 0.1 },
      { of: 'displacementY', plus: 0.1, minus: 0.1 },
      { of: 'bow', plus: 0.1, minus: 0.1 },
    ],
    uncertainty: { equipment: 0.002 },
  },
  'example plan',
);

/** Deviation of the example at a height and a fraction −1 … +1 of the outline (mm); null = not measured. */
function exampleDeviation(height: number, fraction: number): number | null {
  if (fraction > 0.52 && fraction < 0.74 && height > 84 && height < 104) return null;
  const wave = 0.018 * Math.sin(3 * fraction + height / 22) + 0.02 * Math.exp(-(((fraction + 0.5) / 0.2) ** 2));
  const nose = -0.075 * Math.exp(-((fraction / 0.025) ** 2)) * Math.exp(-(((height - 90) / 14) ** 2));
  const proud = 0.11 * Math.exp(-(((fraction + 0.55) / 0.09) ** 2)) * Math.exp(-(((height - 42) / 12) ** 2));
  const lack = -0.14 * Math.exp(-(((fraction - 0.35) / 0.1) ** 2)) * Math.exp(-(((height - 22) / 9) ** 2));
  return wave + nose + proud + lack;
}

const scaleAt = (height: number) => 1.15 - (0.3 * height) / SPAN;
const turnAt = (height: number) => -20 - (25 * height) / SPAN;

/** Positions of the cells of a row, narrower at the edges. */
function positions(outline: ExampleOutline): number[] {
  return Array.from({ length: COLUMNS }, (_, j) => {
    const t = (2 * (j + 0.5)) / COLUMNS - 1;
    const half = Math.abs(t);
    const fraction = Math.sign(t) * (half - 0.8 * (Math.sin(2 * Math.PI * half) / (2 * Math.PI)));
    return fraction < 0 ? -fraction * outline.suctionEnd : fraction * outline.pressureEnd;
  });
}

function exampleMap(): { map: DeviationMap; area: Float64Array; points: Float64Array } {
  const noise = normalFrom(seededRandom(7));
  const map: DeviationMap = { heights: [], along: [], deviation: [], u: [] };
  const area = new Float64Array(ROWS * COLUMNS);
  const points = new Float64Array(3 * ROWS * COLUMNS);
  for (let i = 0; i < ROWS; i++) {
    const height = (SPAN * (i + 0.5)) / ROWS;
    const outline = exampleOutline(scaleAt(height), turnAt(height));
    const along = positions(outline);
    const deviation = along.map((at) => {
      const d = exampleDeviation(height, at < 0 ? -at / outline.suctionEnd : at / outline.pressureEnd);
      return d === null ? null : d + NOISE * noise();
    });
    along.forEach((at, j) => {
      const cell = i * COLUMNS + j;
      const width = ((along[j + 1] ?? along[j]) - (along[j - 1] ?? along[j])) / 2;
      area[cell] = (width * SPAN) / ROWS;
      const near = nearestIndex(outline.line.along, at);
      points.set([outline.line.x[near], outline.line.y[near], height], 3 * cell);
    });
    map.heights.push(height);
    map.along.push(along);
    map.deviation.push(deviation);
    map.u.push(deviation.map((d) => (d === null ? null : NOISE)));
  }
  return { map, area, points };
}

function nearestIndex(list: readonly number[], at: number): number {
  return list.reduce((best, value, i) => (Math.abs(value - at) < Math.abs(list[best] - at) ? i : best), 0);
}

function exampleSection(index: number, height: number): SectionResult {
  const scale = scaleAt(height);
  const outline = exampleOutline(scale, turnAt(height));
  const along = positions(outline);
  const deviation = along.map((at) =>
    exampleDeviation(height, at < 0 ? -at / outline.suctionEnd : at / outline.pressureEnd),
  );
  const gap = deviation.some((d) => d === null);
  const shift = 0.02 * Math.sin(index * 1.7);
  return {
    id: String(index + 1),
    height,
    coverage: deviation.filter((d) => d !== null).length / COLUMNS,
    nominal: exampleMeasures(scale, turnAt(height), { shift: 0, noseShift: 0, u: 0, missing: false }),
    measured: exampleMeasures(scale, turnAt(height) + 3 * shift, {
      shift,
      noseShift: index === 3 ? -0.068 : index === 1 ? 0.046 : shift / 2,
      u: 0.002,
      missing: gap,
    }),
    twistFitDeg: measured(0.05 + 3 * shift, 0.006, 'deg', 'TW-FIT'),
    twistChordDeg: measured(0.06 + 3 * shift, 0.008, 'deg', 'TW-CHORD'),
    displacementX: measured(0.03 - shift, 0.003, 'mm', 'DISP'),
    displacementY: measured(-0.09 + 0.02 * index, 0.003, 'mm', 'DISP'),
    plot: {
      nominal: outline.line,
      measured: null,
      camber: outline.camber,
      along,
      deviation,
      u: deviation.map((d) => (d === null ? null : 0.002)),
    },
  };
}

const TRENDS: Trends = {
  bow: measured(0.096, 0.004, 'mm', 'BOW-END'),
  bowReference: 'line through the centroids of the first and last section',
  leanDeg: measured(0.021, 0.004, 'deg', 'LEAN'),
  sweepDeg: measured(-0.013, 0.004, 'deg', 'SWEEP'),
  untwistDeg: measured(-0.11, 0.012, 'deg', 'UNTWIST'),
};

/** A whole results record of an invented blade: 5 sections, a map of 40 × 120 cells, fails, gaps and not-proven rows. */
export function exampleResults(plan: Plan | null = EXAMPLE_PLAN): Results {
  const sections = [12, 36, 60, 90, 111].map((height, i) => exampleSection(i, height));
  const cells = exampleMap();
  const reach = edgeReach(plan, sections);
  const zones = judgeZones(cells, plan, reach, 'best-fit');
  const characteristics = judgeCharacteristics(sections, TRENDS, zones, plan, 'best-fit');
  const flat = cells.map.deviation
    .flat()
    .filter((d) => d !== null)
    .sort((a, b) => a - b);
  const share = flat.length / (ROWS * COLUMNS);
  const mean = flat.reduce((a, b) => a + b, 0) / flat.length;
  const rms = Math.sqrt(flat.reduce((a, b) => a + b * b, 0) / flat.length);
  const at = (q: number) => flat[Math.floor(q * (flat.length - 1))];
  const deviation: Results['deviation'] = {
    count: 812_340,
    min: flat[0] - 0.02,
    max: flat[flat.length - 1] + 0.03,
    mean,
    rms,
    percentiles: { p1: at(0.01), p5: at(0.05), p50: at(0.5), p95: at(0.95), p99: at(0.99) },
    coverage: share,
    noise: 0.011,
    outliers: { count: 3, listed: [{ place: zones[0].most.place!, deviation: 0.31 }] },
    zones,
  };
  const results: Results = {
    $schema: 'camberwright-results-1.schema.json',
    schema: 'camberwright/results',
    schemaVersion: 1,
    tool: { name: 'camberwright', version: '0.1.0' },
    answers: { part: partAnswer(deviation, characteristics), sections: sectionsAnswer(characteristics) },
    inputs: {
      nominal: {
        name: 'blade-7731B-nominal.csv',
        sha256: 'a3'.repeat(32),
        format: 'sections-csv',
        unit: 'mm',
        points: 4200,
        box: { min: [-20, -9, 0], max: [20, 9, 120] },
      },
      measured: [
        {
          name: 'scan-0147.ply',
          sha256: '5e'.repeat(32),
          format: 'ply-binary',
          unit: 'mm',
          points: 823_911,
          box: { min: [-20.1, -9.2, -0.4], max: [20.2, 9.1, 120.3] },
        },
      ],
      plan: { name: 'plan-7731B.json', sha256: '0c'.repeat(32) },
    },
    settings: {
      'section.slab': 0.5,
      'fit.degree': 3,
      'relate.gate': 1,
      'place.locks': [],
      plan: plan ? 'given' : 'none',
    },
    alignment: {
      method: 'best-fit',
      matrix: [1, -0.0021, 0, 0.042, 0.0021, 1, 0, -0.31, 0, 0, 1, 0.105, 0, 0, 0, 1],
      pivot: [0, 0, 0],
      translation: [0.042, -0.31, 0.105],
      rotationDeg: [0.021, 0.004, 0.1203],
      rotationOrder: 'X then Y then Z, fixed axes',
      otherReading: { rotationDeg: [0.02099, 0.00404, 0.1203], rotationOrder: 'Z then Y then X, fixed axes' },
      inverse: {
        translation: [-0.0414, 0.3101, -0.105],
        rotationDeg: [-0.021, -0.00396, -0.1203],
        rotationOrder: 'X then Y then Z, fixed axes',
      },
      locks: [],
      residual: { rms, mean, max: 0.14, count: 812_340 },
      plays: [0.0061, 0.0012, 0.0008, 0.0004, 0.0003, 0.0002].map((play, i) => ({
        motion: [0, 0, 0, 0, 0, 0].map((_, k) => (k === (2 + i) % 6 ? 1 : 0)),
        play,
        weak: play > 0.005,
      })),
      iterations: 9,
      converged: true,
      leftOut: { count: 11_571, reasons: { 'outside the span': 9214, 'beyond the gate': 2354, outlier: 3 } },
      handedness: 'proper',
      rivalRatio: 7.4,
    },
    deviation,
    map: cells.map,
    sections,
    trends: TRENDS,
    characteristics,
    warnings: [
      {
        code: 'relate/gap',
        message: 'A part of the pressure side was not measured.',
        where: 'heights 84 to 104 mm',
        remedy: 'Measure the part again there.',
      },
    ],
    timing: { load: 0.41, place: 0.92, relate: 1.2, sections: 0.31 },
  };
  return v.parse(resultsSchema, results);
}
