import { cornerRadius, cornerSeparation } from '../edge-corner.ts';
import { flatLength } from '../edge-flat.ts';
import { asymmetry, fullness, noseOffset } from '../edge-form.ts';
import { noseTilt } from '../edge-symmetry.ts';
import { edgeDefinition, setbackSpec } from './at-edge.ts';
import type { Definition } from './definition.ts';

const FORM = { quantity: 'edge-form' } as const;
const ZONE = setbackSpec('Set-back from the nose', 1);

export const edgeFormDefinitions: readonly Definition[] = [
  edgeDefinition(
    {
      ...FORM,
      id: 'F-EDGE',
      name: 'Fullness',
      meaning:
        'Area ahead of the set-back over set-back times thickness there. Square 1, ellipse up to its centre 0.785, parabola 0.667, wedge 0.5.',
      unit: '1',
      parameters: [ZONE],
    },
    (context, edge, { setback }) => fullness(context, edge, Number(setback)),
  ),
  edgeDefinition(
    {
      ...FORM,
      id: 'FLAT',
      name: 'Flat length',
      meaning:
        'Longest stretch of the edge between two parallel lines of the given width, at least three times the uncertainty of the outline.',
      unit: 'mm',
      parameters: [
        { name: 'width', label: 'Width', unit: 'mm', default: 0.005, least: 0.0001, most: 1 },
        { name: 'halfAngleDeg', label: 'Half angle', unit: 'deg', default: 60, least: 15, most: 85 },
      ],
    },
    (context, edge, { width, halfAngleDeg }) => flatLength(context, edge, Number(width), Number(halfAngleDeg)),
  ),
  edgeDefinition(
    {
      ...FORM,
      id: 'CORNER',
      name: 'Least radius of curvature',
      meaning:
        'Least radius of curvature within the set-back of the nose: mean over a turn of 5 degrees, on a measured outline from a circle or conic through the points of the sharpest corner.',
      unit: 'mm',
      parameters: [ZONE],
    },
    (context, edge, { setback }) => cornerRadius(context, edge, Number(setback)),
  ),
  edgeDefinition(
    {
      ...FORM,
      id: 'CORNERS-2',
      name: 'Two corners',
      meaning:
        'Angle between the normals of the two corners of a square edge. Corners are places whose curvature stands out; an edge without two of them has no such angle.',
      unit: 'deg',
      parameters: [
        ZONE,
        { name: 'prominence', label: 'Least prominence', unit: '1', default: 0.5, least: 0.05, most: 0.95 },
        { name: 'separationDeg', label: 'Least separation', unit: 'deg', default: 40, least: 5, most: 170 },
      ],
    },
    (context, edge, { setback, prominence, separationDeg }) =>
      cornerSeparation(context, edge, {
        setback: Number(setback),
        prominence: Number(prominence),
        separationDeg: Number(separationDeg),
      }),
  ),
  edgeDefinition(
    {
      ...FORM,
      id: 'ASYM',
      name: 'Asymmetry of area',
      meaning:
        'Difference over sum of the areas on both sides of the extended camber line ahead of the set-back. Positive: more on the suction side.',
      unit: '1',
      parameters: [ZONE],
    },
    (context, edge, { setback }) => asymmetry(context, edge, Number(setback)),
  ),
  edgeDefinition(
    {
      ...FORM,
      id: 'ASYM-NOSE',
      name: 'Offset of the nose',
      meaning:
        'Distance of the nose from the extended camber line over the thickness at the set-back. Positive: nose on the suction side.',
      unit: '1',
      parameters: [ZONE],
    },
    (context, edge, { setback }) => noseOffset(context, edge, Number(setback)),
  ),
  edgeDefinition(
    {
      ...FORM,
      id: 'NOSE-TILT',
      name: 'Tilt of the nose',
      meaning:
        'Angle between the axis about which the edge is most alike its mirror image and the camber line. Positive: nose turned to the suction side.',
      unit: 'deg',
      parameters: [ZONE],
    },
    (context, edge, { setback }) => noseTilt(context, edge, Number(setback)),
  ),
];
