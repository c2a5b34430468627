import { nominalBlade } from '../../samples/blade.ts';
import type { FieldAt } from '../../samples/blank-field.ts';
import { onEdge } from '../../samples/blank-field.ts';
import { makeBlankScan } from '../../samples/blank-scan.ts';
import { warpedBlank } from '../../samples/blank-warped.ts';
import type { BladePlace } from '../../samples/deviation.ts';
import { LEADING, PRESSURE, SUCTION } from '../../samples/section-form.ts';
import { exactSections } from '../../samples/tessellate.ts';
import { loftSurface } from '../../src/fit/loft-surface.ts';
import { nominalOutline } from '../../src/fit/nominal-outline.ts';
import { sampleOutline } from '../../src/fit/outline-evaluate.ts';
import type { Plan } from '../../src/model/plan.ts';
import type { NominalSurface } from '../../src/model/surface.ts';
import { levelSection } from '../../src/section/surface-section.ts';
import { makeNominalTarget, type NominalTarget } from '../../src/spatial/nominal-target.ts';
import { adaptPoints, EDGE_ZONE, nearNetPlan } from './adapted-blank.ts';
import { exactLoft } from './exact-nominal.ts';
import { distanceFromPolygon, type Ends, endsOf, thicknessOf, turnsOf } from './polygon-section.ts';

export interface AdaptTask {
  seed: number;
  points: number;
  form: NonNullable<Plan['adapt']>['form'];
  /** What makes the blank hopeless: no metal at the leading edge, or flanks thinner than the profile allows. */
  lacks: 'nothing' | 'edge' | 'flank';
}

/** What an adapted blade is found to be by means of its own (mm, degrees). */
export interface AdaptFigures extends AdaptTask {
  verdict: string;
  refusedReason: string | null;
  /** Largest errors of chord and of edge thickness against the closed-form nominal, between sections too. */
  chord: number;
  thickness: number;
  /** Largest turn of the outline over 20 µm outside the edges, its curvature included. */
  breakDeg: number;
  /** Edges whose curvature falls on the way to the nose. */
  notMonotone: number;
  /** Largest second difference over the span of where the noses lie off the nominal's. */
  span: number;
  /** Root mean square distance of kept flanks from the blank's closed form. */
  flank: number;
}

const NOISE = 0.005;
const SETBACKS = [0.5, 1];
/** Points of a closed-form section, and of a sampled outline. */
const POINTS = 8000;
/** Heights at which the adapted surface is measured, on and between the sections (mm). */
const HEIGHTS = Array.from({ length: 41 }, (_, i) => 3 * i);

/** The nominal blade with its closed-form sections, the same for every task; made when first asked for. */
let nominal: { loft: ReturnType<typeof exactLoft>; target: NominalTarget; truths: Float64Array[] } | null = null;
function exactBlade(): NonNullable<typeof nominal> {
  if (nominal === null) {
    const loft = exactLoft(21, 400);
    const truths = exactSections(HEIGHTS, POINTS, nominalBlade()).sections.map(({ points }) => points);
    nominal = { loft, target: makeNominalTarget(loftSurface(loft)), truths };
  }
  return nominal;
}

/** Adapts a seeded near-net blank and measures the adapted surface by polygons. */
export async function adaptFigures(task: AdaptTask): Promise<AdaptFigures> {
  const { seed, points, form, lacks } = task;
  const { loft, target } = exactBlade();
  const blank = warpedBlank(seed, 'near-net');
  const scanned = { blade: blank.blade, field: lacking(blank.field, lacks) };
  const { cloud } = makeBlankScan(scanned, { points, seed, noise: NOISE, from: -1, to: 121 });
  const { results, blade } = await adaptPoints(target, loft, cloud.positions, nearNetPlan(form ? { form } : {}));
  const none = { chord: NaN, thickness: NaN, breakDeg: NaN, notMonotone: 0, span: NaN, flank: NaN };
  const said = { verdict: results.verdict, refusedReason: results.refusedReason ?? null };
  if (!blade) return { ...task, ...said, ...none };
  const figures = measuredFigures(blade.surface);
  return { ...task, ...said, ...figures, flank: flankError(blade.surface, blank.truth) };
}

/** The field without metal at the leading edge between two heights, or 0.16 mm thinner on the flanks there. */
function lacking(field: FieldAt, lacks: AdaptTask['lacks']): FieldAt {
  if (lacks === 'nothing') return field;
  return (piece, t, height) => {
    const depth = Math.exp(-(((height - 70) / 18) ** 4));
    const at = field(piece, t, height);
    if (lacks === 'flank') return onEdge(piece) ? at : at - 0.16 * depth * Math.sin(Math.PI * t) ** 2;
    if (piece === LEADING) return at - 1.1 * depth;
    return onEdge(piece) ? at : at - 1.1 * depth * Math.exp(-((t / 0.03) ** 2));
  };
}

/** Closed-form and adapted sections at heights on and between the sections, compared as polygons. */
function measuredFigures(
  surface: NominalSurface,
): Omit<AdaptFigures, keyof AdaptTask | 'verdict' | 'refusedReason' | 'flank'> {
  const { truths } = exactBlade();
  const found = { chord: 0, thickness: 0, breakDeg: 0, notMonotone: 0, span: 0 };
  const noses: [number[], number[]] = [[], []];
  HEIGHTS.forEach((height, i) => {
    const truth = truths[i];
    const ends = endsOf(truth);
    const { outline } = nominalOutline(levelSection(surface, height));
    const own = sampleOutline(
      outline,
      Float64Array.from({ length: POINTS }, (_, k) => outline.knots[0] + (outline.period * k) / POINTS),
    );
    const now = endsOf(own);
    found.chord = Math.max(found.chord, Math.abs(now.length - ends.length));
    ([0, 1] as const).forEach((end) => {
      for (const setback of SETBACKS)
        found.thickness = Math.max(
          found.thickness,
          Math.abs(thicknessOf(own, now, end, setback) - thicknessOf(truth, ends, end, setback)),
        );
      const turns = turnsOf(own, now, end, EDGE_ZONE + 1);
      found.breakDeg = Math.max(found.breakDeg, turns.breakDeg);
      found.notMonotone += turns.rises ? 0 : 1;
      noses[end].push(acrossShift(ends, now, end));
    });
  });
  for (const run of noses)
    for (let i = 1; i + 1 < run.length; i++)
      found.span = Math.max(found.span, Math.abs(run[i] - 0.5 * (run[i - 1] + run[i + 1])));
  return found;
}

/** How far a chord's end lies off the nominal's, to the left of the nominal chord. */
function acrossShift(nominal: Ends, own: Ends, end: 0 | 1): number {
  const [a, b] = [nominal.at[end], own.at[end]];
  return (b[1] - a[1]) * nominal.dirX - (b[0] - a[0]) * nominal.dirY;
}

/** Distance of kept flanks from where the blank is, root mean square. */
function flankError(surface: NominalSurface, truth: (place: BladePlace) => number): number {
  const law = nominalBlade();
  let [sum, count] = [0, 0];
  for (let height = 3; height < 118; height += 9) {
    const { outline } = nominalOutline(levelSection(surface, height));
    const own = sampleOutline(
      outline,
      Float64Array.from({ length: POINTS }, (_, k) => outline.knots[0] + (outline.period * k) / POINTS),
    );
    for (const piece of [PRESSURE, SUCTION] as const)
      for (let t = 0.25; t < 0.76; t += 0.05) {
        const error = distanceFromPolygon(own, law, { piece, t, height }, truth({ piece, t, height }));
        sum += error * error;
        count++;
      }
  }
  return Math.sqrt(sum / count);
}
