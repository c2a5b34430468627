import type { SectionMeasures } from '../model/results.ts';
import { measured, unmeasured, type Value } from '../model/value.ts';
import { camberAngles } from './camber-angles.ts';
import { axialChord, bitangentValues, camberChordValues, farChordValues } from './chord-values.ts';
import { measureEdge } from './measure-edge.ts';
import { MEASURE_DEFAULTS, type MeasureOptions } from './measure-options.ts';
import { coveredShare, type Section, type SectionContext, sectionContext } from './section-context.ts';
import { camberMax, thicknessAtFractions, thicknessMax } from './thickness-values.ts';

/**
 * Returns every characteristic of a section outline, each with its definition, uncertainty and status. What stands on
 * places without points is not measured; what an edge form rules out is not applicable. Angles are from +X, positive
 * from +X to +Y.
 * @param section outline, its edge points, and for a measured outline its fit and coverage
 */
export function measureSection(section: Section, options: Partial<MeasureOptions> = {}): SectionMeasures {
  return measuresOf(sectionContext(section, { ...MEASURE_DEFAULTS, ...options }));
}

/** Returns every characteristic from a context already made, so that its line of centres can also be drawn. */
export function measuresOf(context: SectionContext): SectionMeasures {
  const far = farChordValues(context);
  const touching = bitangentValues(context);
  const camber = camberChordValues(context);
  return {
    chordFar: far.length,
    chordBitangent: touching.length,
    chordAxial: axialChord(context),
    chordCamber: camber.length,
    staggerFarDeg: far.stagger,
    staggerBitangentDeg: touching.stagger,
    staggerCamberDeg: camber.stagger,
    thicknessMax: thicknessMax(context),
    thicknessAt: thicknessAtFractions(context),
    ...areaValues(context),
    ...camberAngles(context),
    camberMax: camberMax(context),
    leadingEdge: measureEdge(context, 'leading'),
    trailingEdge: measureEdge(context, 'trailing'),
  };
}

/** Area properties; they stand on the whole outline. */
function areaValues(
  context: SectionContext,
): Pick<SectionMeasures, 'area' | 'perimeter' | 'centroidX' | 'centroidY' | 'principalAxisDeg'> {
  const { area, noise } = context;
  const scale = noise ? noise.sigma * Math.sqrt(noise.spacing) : null;
  const coverage = coveredShare(context);
  const value = (amount: number, gain: number, unit: string, definition: string): Value =>
    coverage < context.options.leastCoverage
      ? unmeasured('not-measured', `Only ${(100 * coverage).toFixed(0)} % of the outline has points.`, unit, definition)
      : measured(amount, scale === null ? null : scale * gain, unit, definition, { evidence: { coverage } });
  const deg = 180 / Math.PI;
  return {
    area: value(area.area, area.gain.area, 'mm2', 'AREA'),
    perimeter: value(area.perimeter, area.gain.perimeter, 'mm', 'PERIMETER'),
    centroidX: value(area.centroidX, area.gain.centroidX, 'mm', 'CENTROID'),
    centroidY: value(area.centroidY, area.gain.centroidY, 'mm', 'CENTROID'),
    principalAxisDeg: value(area.axis * deg, area.gain.axis * deg, 'deg', 'PRINCIPAL-AXIS'),
  };
}
