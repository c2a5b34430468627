import { LEAST_SECTION_POINTS } from '../fit/fit-measured.ts';
import type { SectionResult } from '../model/results.ts';
import { type Parameters, unmeasured, type Value } from '../model/value.ts';
import type { ComparedSection } from './compare-section.ts';
import type { MeasuringPlace, Quantity } from './definitions/definition.ts';
import { measureBy } from './definitions/definitions.ts';
import { measuresOf } from './measure-section.ts';
import { camberPlot, deviationPlot, outlinePlot } from './section-plot.ts';

/**
 * Returns the result of a compared section: characteristics of nominal and measured part, twist and displacement of the
 * best rigid motion (edges included: they alone hold the section along its chord) and by chord, coverage and what the
 * plots draw.
 */
export function comparedResult(compared: ComparedSection): SectionResult {
  const { id, height, nominal, carried, coverage, gaps, noise, pivot } = compared;
  const { cut } = carried.on;
  const head = { id, height, ...(cut === null ? {} : { cut: cut.record }) };
  const nominalMeasures = measuresOf(nominal);
  const nominalPlot = outlinePlot(nominal.section.outline, nominal.section.edges);
  if (compared.measured === null) {
    const reason = `${carried.u.length} measured points lie near this section; ${LEAST_SECTION_POINTS} are needed.`;
    return {
      ...head,
      coverage,
      nominal: nominalMeasures,
      ...againstNominal(pivot, (_quantity, id, parameters) =>
        unmeasured('not-measured', reason, id.startsWith('TWIST') ? 'deg' : 'mm', id, { parameters }),
      ),
      plot: { nominal: nominalPlot, measured: null, camber: null, along: [], deviation: [], u: [] },
    };
  }
  const { outline, edges } = compared.measured.section;
  const place: MeasuringPlace = {
    context: compared.measured,
    edge: null,
    flank: null,
    at: null,
    against: { nominal, carried },
  };
  return {
    ...head,
    coverage,
    nominal: nominalMeasures,
    measured: measuresOf(compared.measured),
    ...againstNominal(pivot, (quantity, id, parameters) => measureBy(place, quantity, id, parameters)),
    plot: {
      nominal: nominalPlot,
      measured: outlinePlot(outline, edges),
      camber: camberPlot(compared.measured),
      ...deviationPlot(carried, gaps, noise),
    },
  };
}
/** Twist and displacement by the definitions in force where a plan names none. */
function againstNominal(
  [pivotX, pivotY]: readonly [number, number],
  value: (quantity: Quantity, id: string, parameters: Parameters) => Value,
): Pick<SectionResult, 'twistFitDeg' | 'twistChordDeg' | 'displacementX' | 'displacementY'> {
  const motion = { basis: 'rigid fit', pivotX, pivotY };
  return {
    twistFitDeg: value('twist', 'TWIST-FIT', { edges: 'included' }),
    twistChordDeg: value('twist', 'TWIST-CHORD', { chord: 'CH-FAR' }),
    displacementX: value('displacement', 'DISPLACEMENT-X', motion),
    displacementY: value('displacement', 'DISPLACEMENT-Y', motion),
  };
}
