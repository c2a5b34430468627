import { edgeEllipse } from '../edge-ellipse.ts';
import { endRadius, inscribedRadius } from '../edge-inscribed.ts';
import { arcRadius, fittedRadius, noseRadius, setbackRadius } from '../edge-radius.ts';
import { edgeDefinition, setbackSpec } from './at-edge.ts';
import type { Definition, ParameterSpec } from './definition.ts';

const RADIUS = { quantity: 'edge-radius', unit: 'mm' } as const;
const RATIO: ParameterSpec = {
  name: 'ratio',
  label: 'Fixed ratio a : b (0 = found)',
  unit: '1',
  default: 0,
  least: 0,
  most: 50,
};

export const radiusDefinitions: readonly Definition[] = [
  edgeDefinition(
    {
      ...RADIUS,
      id: 'R-LSQ',
      name: 'Fitted circle, by angle',
      meaning:
        'Radius of the least-squares circle through the points whose normal lies within the half angle of the line of centres.',
      parameters: [{ name: 'halfAngleDeg', label: 'Half angle', unit: 'deg', default: 60, least: 15, most: 85 }],
    },
    (context, edge, { halfAngleDeg }) => fittedRadius(context, edge, Number(halfAngleDeg)),
  ),
  edgeDefinition(
    {
      ...RADIUS,
      id: 'R-ARC',
      name: 'Fitted circle, whole arc',
      meaning:
        'Radius of the least-squares circle through the whole arc of the edge; where it ends is found from the points. Only for edges that are circles.',
      parameters: [],
    },
    arcRadius,
  ),
  edgeDefinition(
    {
      ...RADIUS,
      id: 'R-SB',
      name: 'Fitted circle, by set-back',
      meaning:
        'Radius of the least-squares circle through the points within a set-back of the nose, along the line of centres.',
      parameters: [setbackSpec('Set-back from the nose', 0.25)],
    },
    (context, edge, { setback }) => setbackRadius(context, edge, Number(setback)),
  ),
  edgeDefinition(
    {
      ...RADIUS,
      id: 'R-OSC',
      name: 'Curvature at the nose',
      meaning: 'One over the curvature of the outline where its normal lies along the line of centres.',
      parameters: [],
    },
    noseRadius,
  ),
  edgeDefinition(
    {
      ...RADIUS,
      id: 'R-MIC',
      name: 'Inscribed circle at a set-back',
      meaning:
        'Radius of the inscribed circle centred on the line of centres at a set-back from the edge point. The set-back must exceed the end radius.',
      parameters: [setbackSpec('Set-back of the centre', 1)],
    },
    (context, edge, { setback }) => inscribedRadius(context, edge, Number(setback)),
  ),
  edgeDefinition(
    {
      ...RADIUS,
      id: 'R-END',
      name: 'End circle',
      meaning: 'Radius of the circle at which the line of centres ends; it touches both sides and the nose.',
      parameters: [],
    },
    endRadius,
  ),
  edgeDefinition(
    {
      ...RADIUS,
      id: 'E-AB',
      name: 'Nose radius of the ellipse',
      meaning: 'b² / a of the ellipse fitted to the edge, one axis along the line of centres.',
      parameters: [RATIO],
    },
    (context, edge, { ratio }) => edgeEllipse(context, edge, Number(ratio)).noseRadius,
  ),
  edgeDefinition(
    {
      id: 'E-A',
      quantity: 'edge-ellipse',
      name: 'Half axis along',
      meaning:
        'Half axis along the line of centres of the ellipse fitted to the edge. Points at the nose alone say little of it.',
      unit: 'mm',
      parameters: [RATIO],
    },
    (context, edge, { ratio }) => edgeEllipse(context, edge, Number(ratio)).a,
  ),
  edgeDefinition(
    {
      id: 'E-B',
      quantity: 'edge-ellipse',
      name: 'Half axis across',
      meaning: 'Half axis across the line of centres of the ellipse fitted to the edge.',
      unit: 'mm',
      parameters: [RATIO],
    },
    (context, edge, { ratio }) => edgeEllipse(context, edge, Number(ratio)).b,
  ),
];
