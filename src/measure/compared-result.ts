import { LEAST_SECTION_POINTS } from '../fit/fit-measured.ts';
import type { SectionResult } from '../model/results.ts';
import { measured, unmeasured, type Value } from '../model/value.ts';
import type { ComparedSection } from './compare-section.ts';
import { measuresOf } from './measure-section.ts';
import { camberPlot, deviationPlot, outlinePlot } from './section-plot.ts';
import { fitSection, type SectionFit } from './twist-fit.ts';

const DEG = 180 / Math.PI;

/**
 * Returns the result of a compared section: characteristics of nominal and measured part, twist and displacement of the
 * best rigid motion (edges included: they alone hold the section along its chord) and by chord, coverage and what the
 * plots draw.
 */
export function comparedResult(compared: ComparedSection): SectionResult {
  const { id, height, surface, nominal, carried, coverage, gaps, noise, pivot } = compared;
  const nominalMeasures = measuresOf(nominal);
  const nominalPlot = outlinePlot(nominal.section.outline, nominal.section.edges);
  if (compared.measured === null) {
    const reason = `${carried.u.length} measured points lie near this section; ${LEAST_SECTION_POINTS} are needed.`;
    return {
      id,
      height,
      coverage,
      nominal: nominalMeasures,
      ...motionValues(null, reason, pivot),
      twistChordDeg: unmeasured('not-measured', reason, 'deg', 'TWIST-CHORD'),
      plot: { nominal: nominalPlot, measured: null, camber: null, along: [], deviation: [], u: [] },
    };
  }
  const { outline, edges } = compared.measured.section;
  const measures = measuresOf(compared.measured);
  const motion = fitSection(nominal.section.outline, nominal.section.edges, carried.points, [pivot[0], pivot[1]], {
    excludeEdges: false,
  });
  const poorly = coverage < 0.5 ? `Only ${Math.round(100 * coverage)} % of the outline is measured.` : null;
  return {
    id,
    height,
    coverage,
    nominal: nominalMeasures,
    measured: measures,
    ...motionValues(poorly === null ? motion : null, poorly ?? 'The fit of the section found no motion.', pivot),
    twistChordDeg: chordTwist(measures.staggerFarDeg, nominalMeasures.staggerFarDeg),
    plot: {
      nominal: nominalPlot,
      measured: outlinePlot(outline, edges),
      camber: camberPlot(compared.measured),
      ...deviationPlot(surface, carried, gaps, noise),
    },
  };
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
