import type { EdgeMeasures } from '../model/results.ts';
import { unmeasured } from '../model/value.ts';
import { edgeEllipse } from './edge-ellipse.ts';
import { flatLength } from './edge-flat.ts';
import { asymmetry, fullness } from './edge-form.ts';
import { camberEdgePoint } from './edge-point.ts';
import { fittedRadius, noseRadius } from './edge-radius.ts';
import { edgeThickness } from './edge-thickness.ts';
import type { SectionContext } from './section-context.ts';

/** Returns everything measured at one edge. */
export function measureEdge(context: SectionContext, which: 'leading' | 'trailing'): EdgeMeasures {
  const { setbacks, edgeHalfAngleDeg, formSetback, flatWidth } = context.options;
  const thicknessAt = setbacks.map((setback) => ({
    setback,
    ...edgeThickness(context, which, setback, 'T-ORD', { from: 'CH-FAR', along: 'chord' }),
  }));
  const edge = context[which];
  if (!edge) return withoutCamber(thicknessAt);
  const ellipse = edgeEllipse(context, edge, 0);
  const point = camberEdgePoint(context, edge, 'straight');
  return {
    pointX: point.x,
    pointY: point.y,
    radiusNose: noseRadius(context, edge),
    radiusFit: fittedRadius(context, edge, edgeHalfAngleDeg),
    ellipseA: ellipse.a,
    ellipseB: ellipse.b,
    ellipseNoseRadius: ellipse.noseRadius,
    thicknessAt,
    fullness: fullness(context, edge, formSetback),
    flatLength: flatLength(context, edge, flatWidth, edgeHalfAngleDeg),
    asymmetry: asymmetry(context, edge, formSetback),
    faults: [],
  };
}

function withoutCamber(thicknessAt: EdgeMeasures['thicknessAt']): EdgeMeasures {
  const none = (unit: string, definition: string) =>
    unmeasured('not-converged', 'No line of centres was found.', unit, definition);
  return {
    pointX: none('mm', 'EP-CAM'),
    pointY: none('mm', 'EP-CAM'),
    radiusNose: none('mm', 'R-OSC'),
    radiusFit: none('mm', 'R-LSQ'),
    ellipseA: none('mm', 'E-AB'),
    ellipseB: none('mm', 'E-AB'),
    ellipseNoseRadius: none('mm', 'E-AB'),
    thicknessAt,
    fullness: none('1', 'F-EDGE'),
    flatLength: none('mm', 'FLAT'),
    asymmetry: none('1', 'ASYM'),
    faults: [],
  };
}
