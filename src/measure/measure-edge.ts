import type { EdgeMeasures } from '../model/results.ts';
import { measured, unmeasured, type Value } from '../model/value.ts';
import { cutThickness } from './cut-thickness.ts';
import { edgeEllipse } from './edge-ellipse.ts';
import { asymmetry, flatLength, fullness } from './edge-form.ts';
import { fittedRadius, noseRadius } from './edge-radius.ts';
import { type EdgeContext, lacking, type SectionContext } from './section-context.ts';

/** Returns everything measured at one edge. */
export function measureEdge(context: SectionContext, which: 'leading' | 'trailing'): EdgeMeasures {
  const thicknessAt = context.options.setbacks.map((setback) => ({
    setback,
    ...thicknessAtSetback(context, which, setback),
  }));
  const edge = context[which];
  if (!edge) return withoutCamber(thicknessAt);
  const ellipse = edgeEllipse(context, edge);
  return {
    ...edgePoint(context, edge),
    radiusNose: noseRadius(context, edge),
    radiusFit: fittedRadius(context, edge),
    ellipseA: ellipse.a,
    ellipseB: ellipse.b,
    ellipseNoseRadius: ellipse.noseRadius,
    thicknessAt,
    fullness: fullness(context, edge),
    flatLength: flatLength(context, edge),
    asymmetry: asymmetry(context, edge),
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

/** Edge point EP-CAM, straight extension of the line of centres. */
function edgePoint(context: SectionContext, edge: EdgeContext): { pointX: Value; pointY: Value } {
  const missing = lacking(context, [[edge.point, edge.point, `the ${edge.which} edge`]], 'mm', 'EP-CAM');
  if (missing) return { pointX: missing, pointY: missing };
  const along = context.noise ? context.noise.at(edge.point) : null;
  const across = edgePointAcross(edge);
  const u = (cosine: number, sine: number) =>
    along === null || across === null ? null : Math.hypot(along * cosine, across * sine);
  const parameters = { extension: 'straight' };
  return {
    pointX: measured(edge.pointX, u(edge.outX, edge.outY), 'mm', 'EP-CAM', { parameters }),
    pointY: measured(edge.pointY, u(edge.outY, edge.outX), 'mm', 'EP-CAM', { parameters }),
  };
}

/** Standard uncertainty (mm) of the edge point across the line of centres: its last centre and its direction. */
export function edgePointAcross(edge: EdgeContext): number | null {
  if (edge.end.uAcross === null || edge.uDirection === null) return null;
  const reach = Math.hypot(edge.pointX - edge.end.x, edge.pointY - edge.end.y);
  return Math.hypot(edge.end.uAcross, reach * edge.uDirection);
}

/** Thickness of the cut normal to CH-FAR at a set-back along it from the chord's end (T-ORD). */
function thicknessAtSetback(context: SectionContext, which: 'leading' | 'trailing', setback: number): Value {
  const { far, contour, noise } = context;
  const sign = which === 'leading' ? 1 : -1;
  const dx = (sign * (far.trailingX - far.leadingX)) / far.length;
  const dy = (sign * (far.trailingY - far.leadingY)) / far.length;
  const parameters = { setback, along: 'CH-FAR', from: `${which} end of CH-FAR` };
  const end = which === 'leading' ? far.leadingT : far.trailingT;
  const cut = setback <= 0.5 * far.length ? cutThickness(contour, end, dx, dy, setback) : null;
  if (!cut)
    return unmeasured('not-applicable', 'The section is too short for the set-back.', 'mm', 'T-ORD', { parameters });
  const name = `the ${which} edge`;
  const missing = lacking(
    context,
    [
      [end, end, name],
      [cut.before, cut.before, `${setback} mm from ${name}`],
      [cut.after, cut.after, `${setback} mm from ${name}`],
    ],
    'mm',
    'T-ORD',
  );
  if (missing) return { ...missing, parameters };
  const step = 0.01 * setback;
  const near = noise ? cutThickness(contour, end, dx, dy, setback - step) : null;
  const rate = near ? (cut.thickness - near.thickness) / step : 0;
  const u = noise ? Math.hypot(noise.at(cut.before), noise.at(cut.after), rate * noise.at(end)) : null;
  return measured(cut.thickness, u, 'mm', 'T-ORD', { parameters });
}
