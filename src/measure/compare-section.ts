import { fitMeasured, LEAST_SECTION_POINTS } from '../fit/fit-measured.ts';
import { nominalOutline } from '../fit/nominal-outline.ts';
import { findSectionEdges } from '../fit/section-edges.ts';
import type { Relation } from '../model/relation.ts';
import type { SectionResult } from '../model/results.ts';
import type { NominalSurface } from '../model/surface.ts';
import { measured, unmeasured, type Value } from '../model/value.ts';
import { carryPoints } from '../section/carry-points.ts';
import { type PointsByHeight, type SlabOptions, slabPoints } from '../section/slab-points.ts';
import { evaluateSurface, PLACE_SIZE } from '../spatial/surface-evaluate.ts';
import { MEASURE_DEFAULTS, type MeasureOptions } from './measure-options.ts';
import { measuresOf } from './measure-section.ts';
import { type Section, sectionContext } from './section-context.ts';
import { camberPlot, deviationPlot, outlinePlot } from './section-plot.ts';
import { fitSection, type SectionFit } from './twist-fit.ts';

/** What all sections of one measured part share. */
export interface SectionSource {
  surface: NominalSurface;
  relation: Relation;
  sorted: PointsByHeight;
  /** Standard deviation of a point along the normal (mm); 0 for exact points. */
  noise: number;
  /** Pivot of section motions (mm). */
  pivot: readonly [number, number];
  slab: SlabOptions;
  measure: Partial<MeasureOptions>;
}

/** A section to be measured; `exact` is the drawing's own outline where the height is one of the drawing's. */
export interface SectionTask {
  id: string;
  height: number;
  exact: Section | null;
}

/** Noise below this (mm) is that of the arithmetic: the points are exact. */
const EXACT = 1e-7;
const DEG = 180 / Math.PI;

/**
 * Returns one section of nominal and measured part: characteristics of both, twist and displacement of the best rigid
 * motion (edges included: they alone hold the section along its chord) and by chord, coverage and what the plots draw.
 */
export function compareSection(source: SectionSource, task: SectionTask): SectionResult {
  const { surface, relation, noise, pivot } = source;
  const options = { ...MEASURE_DEFAULTS, ...source.measure };
  const nominal = nominalOutline(surface, task.height);
  const nominalContext = sectionContext(task.exact ?? { outline: nominal.outline, edges: nominal.edges }, options);
  const nominalMeasures = measuresOf(nominalContext);
  const { pick } = slabPoints(source.sorted, task.height, source.slab);
  const carried = carryPoints(surface, relation, pick, task.height);
  const sigma = noise > EXACT ? noise : 0;
  const result = fitMeasured(surface, nominal, carried, sigma);
  const base = { id: task.id, height: task.height };
  if (result === null) {
    const reason = `${carried.u.length} measured points lie near this section; ${LEAST_SECTION_POINTS} are needed.`;
    return {
      ...base,
      coverage: 0,
      nominal: nominalMeasures,
      ...motionValues(null, reason, pivot),
      twistChordDeg: unmeasured('not-measured', reason, 'deg', 'TWIST-CHORD'),
      plot: { nominal: outlinePlot(nominal.outline, nominal.edges), measured: null, camber: null, ...emptyTrace() },
    };
  }
  const { fitted, coverage, gaps } = result;
  const edges = findSectionEdges(fitted.outline, { hint: hintOf(surface, task.height) });
  const context = sectionContext({ outline: fitted.outline, edges, fitted }, options);
  const measures = measuresOf(context);
  const motion = fitSection(nominal.outline, nominal.edges, carried.points, [pivot[0], pivot[1]], {
    excludeEdges: false,
  });
  const poorly = coverage < 0.5 ? `Only ${Math.round(100 * coverage)} % of the outline is measured.` : null;
  return {
    ...base,
    coverage,
    nominal: nominalMeasures,
    measured: measures,
    ...motionValues(poorly === null ? motion : null, poorly ?? 'The fit of the section found no motion.', pivot),
    twistChordDeg: chordTwist(measures.staggerFarDeg, nominalMeasures.staggerFarDeg),
    plot: {
      nominal: outlinePlot(nominal.outline, nominal.edges),
      measured: outlinePlot(fitted.outline, edges),
      camber: camberPlot(context),
      ...deviationPlot(surface, carried, gaps, sigma),
    },
  };
}

const emptyTrace = () => ({ along: [], deviation: [], u: [] });

/** The nominal's edge points, which tell a measured section's edges apart. */
function hintOf(surface: NominalSurface, height: number): { leading: [number, number]; trailing: [number, number] } {
  const place = new Float64Array(PLACE_SIZE);
  const at = (u: number): [number, number] => {
    evaluateSurface(surface, u, height, place);
    return [place[0], place[1]];
  };
  return { leading: at(0), trailing: at(surface.columns[0]) };
}

/** Twist and displacement as value records. */
function motionValues(
  motion: SectionFit | null,
  reason: string,
  pivot: readonly [number, number],
): Pick<SectionResult, 'twistFitDeg' | 'displacementX' | 'displacementY'> {
  const parameters = { pivotX: pivot[0], pivotY: pivot[1], edges: 'included' };
  if (motion === null) {
    const missing = (unit: string, definition: string): Value =>
      unmeasured('not-measured', reason, unit, definition, { parameters });
    return {
      twistFitDeg: missing('deg', 'TWIST-FIT'),
      displacementX: missing('mm', 'DISPLACEMENT'),
      displacementY: missing('mm', 'DISPLACEMENT'),
    };
  }
  const evidence = { points: motion.count, rms: motion.rms };
  const value = (amount: number, u: number | null, unit: string, definition: string): Value =>
    motion.converged
      ? measured(amount, u, unit, definition, { parameters, evidence })
      : unmeasured('not-converged', 'The fit of the section did not settle.', unit, definition, { parameters });
  return {
    twistFitDeg: value(motion.twist * DEG, motion.uTwist === null ? null : motion.uTwist * DEG, 'deg', 'TWIST-FIT'),
    displacementX: value(motion.dx, motion.uDx, 'mm', 'DISPLACEMENT'),
    displacementY: value(motion.dy, motion.uDy, 'mm', 'DISPLACEMENT'),
  };
}

function chordTwist(own: Value, nominal: Value): Value {
  const parameters = { chord: 'CH-FAR' };
  if (own.value === null || nominal.value === null) {
    const status = own.status === 'ok' ? 'not-applicable' : own.status;
    return unmeasured(status, own.reason ?? 'The chord was not found.', 'deg', 'TWIST-CHORD', { parameters });
  }
  const turn = own.value - nominal.value;
  return measured(turn - 360 * Math.round(turn / 360), own.u, 'deg', 'TWIST-CHORD', { parameters });
}
