import type { EdgeMeasures, SectionMeasures } from '../../src/model/results.ts';
import { measured, unmeasured, type Value } from '../../src/model/value.ts';

export interface ExampleErrors {
  /** Form error (mm) and error of the leading-edge radius (mm). */
  shift: number;
  noseShift: number;
  u: number;
  /** Without data at the largest thickness. */
  missing: boolean;
}

const ok = (value: number, u: number, unit: string, definition: string): Value => measured(value, u, unit, definition);

function edge(radius: number, x: number, y: number, u: number): EdgeMeasures {
  return {
    pointX: ok(x, u, 'mm', 'EP-CAM'),
    pointY: ok(y, u, 'mm', 'EP-CAM'),
    radiusNose: ok(radius * 0.99, 2 * u, 'mm', 'R-OSC'),
    radiusFit: ok(radius, 1.5 * u, 'mm', 'R-LSQ'),
    ellipseA: ok(radius * 1.1, 4 * u, 'mm', 'E-AB'),
    ellipseB: ok(radius, u, 'mm', 'E-AB'),
    ellipseNoseRadius: ok(radius / 1.1, 2 * u, 'mm', 'E-AB'),
    thicknessAt: [{ setback: 2, ...ok(2.4 * radius + 0.4, u, 'mm', 'T-MIC') }],
    fullness: ok(0.78, 0.004, '1', 'FULLNESS'),
    flatLength: ok(0.08, 0.01, 'mm', 'FLAT'),
    asymmetry: ok(0.004, 0.002, '1', 'ASYM'),
    faults: [],
  };
}

/** Values of the disk-along-arc section (closed form, see the measure tests) scaled, turned and falsified. */
export function exampleMeasures(scale: number, turnDeg: number, errors: ExampleErrors): SectionMeasures {
  const { shift, u } = errors;
  const length = (value: number, id: string) => ok(scale * value + shift, u, 'mm', id);
  const angle = (value: number, id: string) => ok(value + turnDeg, 5 * u, 'deg', id);
  const [c, s] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)];
  const gap = 'A gap in the data crosses the largest thickness.';
  const thickness = errors.missing
    ? unmeasured('not-measured', gap, 'mm', 'T-MIC')
    : ok(scale * 3.403846 + 1.5 * shift, u, 'mm', 'T-MIC');
  return {
    chordFar: length(35.002014, 'CH-FAR'),
    chordBitangent: length(35.00143, 'CH-BT'),
    chordAxial: length(35.002014 * c, 'CH-AX'),
    chordCamber: length(34.953835, 'CH-CAM'),
    staggerFarDeg: angle(0, 'ST-FAR'),
    staggerBitangentDeg: angle(0.335045, 'ST-BT'),
    staggerCamberDeg: angle(0.112127, 'ST-CAM'),
    thicknessMax: { ...thickness, at: errors.missing ? null : 0.480769 },
    thicknessAt: [],
    area: ok(scale * scale * 89.201329, 2 * u, 'mm2', 'AREA'),
    perimeter: length(72.586095, 'PERIMETER'),
    centroidX: ok(-0.498297 * scale * c - 2.2788 * scale * s, u, 'mm', 'CENTROID'),
    centroidY: ok(-0.498297 * scale * s + 2.2788 * scale * c, u, 'mm', 'CENTROID'),
    principalAxisDeg: angle(0.461959, 'AXIS'),
    camberAngleDeg: ok(40 + shift, 10 * u, 'deg', 'CAMBER'),
    metalAngleLeadingDeg: angle(20, 'MA-END'),
    metalAngleTrailingDeg: angle(-20, 'MA-END'),
    camberMax: length(3.015369, 'CAMBER-MAX'),
    leadingEdge: edge(0.5 * scale + errors.noseShift, -17.57 * scale, -0.17 * scale, u),
    trailingEdge: edge(0.3 * scale + shift / 3, 17.38 * scale, -0.1 * scale, u),
  };
}
