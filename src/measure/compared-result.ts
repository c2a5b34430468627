import { LEAST_SECTION_POINTS } from '../fit/fit-measured.ts';
import type { SectionResult } from '../model/results.ts';
import { type Parameters, unmeasured, type Value } from '../model/value.ts';
import type { ComparedSection } from './compare-section.ts';
import type { EdgeName, FlankName, MeasuringPlace, Quantity } from './definitions/definition.ts';
import { measureBy } from './definitions/definitions.ts';
import { withEdgeForms } from './edge-form-class.ts';
import { measuresOf } from './measure-section.ts';
import { camberPlot, deviationPlot, outlinePlot, wavinessPlot } from './section-plot.ts';
import { stripPlots } from './strip-plot.ts';

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
  const waviness = wavinessPlot(nominal, compared.measured);
  return {
    ...head,
    coverage,
    nominal: nominalMeasures,
    measured: withEdgeForms(measuresOf(compared.measured), compared),
    ...againstNominal(pivot, (quantity, id, parameters) => measureBy(place, quantity, id, parameters)),
    ...formValues(place),
    plot: {
      nominal: nominalPlot,
      measured: outlinePlot(outline, edges),
      camber: camberPlot(compared.measured),
      ...deviationPlot(carried, gaps, noise),
      ...stripPlots(compared.measured, nominal),
      ...(waviness ? { waviness } : {}),
    },
  };
}

/** Twist and displacement by the definitions in force where a plan names none. */
function againstNominal(
  [pivotX, pivotY]: readonly [number, number],
  value: (quantity: Quantity, id: string, parameters: Parameters) => Value,
) {
  const motion = { basis: 'rigid fit', pivotX, pivotY };
  const middle = { ...motion, basis: 'mid camber line' };
  return {
    twistFitDeg: value('twist', 'TWIST-FIT', { edges: 'included' }),
    twistChordDeg: value('twist', 'TWIST-CHORD', { chord: 'CH-FAR' }),
    displacementX: value('displacement', 'DISPLACEMENT-X', motion),
    displacementY: value('displacement', 'DISPLACEMENT-Y', motion),
    displacementCamberX: value('displacement', 'DISPLACEMENT-X', middle),
    displacementCamberY: value('displacement', 'DISPLACEMENT-Y', middle),
    displacementChord: value('displacement', 'DISPLACEMENT-CHORD', middle),
    displacementNormal: value('displacement', 'DISPLACEMENT-NORMAL', middle),
  } satisfies Partial<SectionResult>;
}

/** Waves of the flanks and profile of the edges by the definitions in force where a plan names none. */
function formValues(place: MeasuringPlace): Pick<SectionResult, 'waviness' | 'edgeProfile'> {
  const peakToValley = (flank: FlankName) => measureBy({ ...place, flank }, 'waviness', 'WAVE-PV');
  const profile = (edge: EdgeName) => ({
    datum: measureBy({ ...place, edge }, 'edge-profile', 'PROFILE-DATUM'),
    local: measureBy({ ...place, edge }, 'edge-profile', 'PROFILE-LOCAL'),
  });
  return {
    waviness: { suction: peakToValley('suction'), pressure: peakToValley('pressure') },
    edgeProfile: { leading: profile('leading'), trailing: profile('trailing') },
  };
}
