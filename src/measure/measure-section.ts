import type { SectionMeasures } from '../model/results.ts';
import { type AreaId, areaValue } from './area-values.ts';
import { endAngle, endTurn } from './camber-angles.ts';
import { camberMax } from './camber-height.ts';
import { axialChord, chordLength, staggerAngle } from './chord-values.ts';
import { measureEdge } from './measure-edge.ts';
import { MEASURE_DEFAULTS, type MeasureOptions } from './measure-options.ts';
import { type Section, type SectionContext, sectionContext } from './section-context.ts';
import { largestThickness, thickestPlace, thicknessAt } from './thickness-values.ts';

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
  const { fractions, fractionsAlong } = context.options;
  const place = thickestPlace(context, fractionsAlong);
  return {
    chordFar: chordLength(context, 'CH-FAR'),
    chordBitangent: chordLength(context, 'CH-BT'),
    chordAxial: axialChord(context, 'axial'),
    chordCamber: chordLength(context, 'CH-CAM', 'straight'),
    staggerFarDeg: staggerAngle(context, 'CH-FAR', 'axial'),
    staggerBitangentDeg: staggerAngle(context, 'CH-BT', 'axial'),
    staggerCamberDeg: staggerAngle(context, 'CH-CAM', 'axial', 'straight'),
    thicknessMax: { ...largestThickness(context), at: place.value },
    thicknessPlace: place,
    thicknessAt: fractions.map((fraction) => ({ fraction, ...thicknessAt(context, fraction, fractionsAlong) })),
    ...areaValues(context),
    camberAngleDeg: endTurn(context),
    metalAngleLeadingDeg: endAngle(context, 'leading', 'axial'),
    metalAngleTrailingDeg: endAngle(context, 'trailing', 'axial'),
    camberMax: camberMax(context, 'CENTRES'),
    leadingEdge: measureEdge(context, 'leading'),
    trailingEdge: measureEdge(context, 'trailing'),
  };
}

function areaValues(context: SectionContext) {
  const of = (id: AreaId) => areaValue(context, id);
  return {
    area: of('AREA'),
    perimeter: of('PERIMETER'),
    centroidX: of('CENTROID-X'),
    centroidY: of('CENTROID-Y'),
    principalAxisDeg: of('PRINCIPAL-AXIS'),
    ixx: of('I-XX'),
    iyy: of('I-YY'),
    ixy: of('I-XY'),
    i1: of('I-1'),
    i2: of('I-2'),
  };
}
