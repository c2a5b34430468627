import { describe, expect, it } from 'vitest';
import { areaProperties } from '../../src/measure/area-properties.ts';
import { camberLine } from '../../src/measure/camber-line.ts';
import { contourOf } from '../../src/measure/contour.ts';
import { MEASURE_DEFAULTS } from '../../src/measure/measure-options.ts';
import { measureSection } from '../../src/measure/measure-section.ts';
import type { Section } from '../../src/measure/section-context.ts';
import {
  CAMBERED,
  diskPoints,
  ellipsePoints,
  joukowskiPoints,
  nacaHalf,
  nacaPoints,
  platePoints,
  sectionOf,
} from './shapes.ts';

const near = (actual: number | null | undefined, expected: number, tolerance: number) => {
  expect(actual).not.toBeNull();
  expect(Math.abs((actual as number) - expected), `${actual} for ${expected}`).toBeLessThanOrEqual(tolerance);
};
const lineOf = (section: Section) => {
  const line = camberLine(contourOf(section.outline), section.edges, MEASURE_DEFAULTS, undefined, null);
  if (!line) throw new Error('no line of centres');
  return line;
};

describe('plate with circular ends, 40 × 2', () => {
  const section = sectionOf(platePoints(40, 1, 1, 1400, 600));
  const m = measureSection(section);
  it('has its area, perimeter and second moments', () => {
    near(m.area.value, 76 + Math.PI, 1e-5);
    near(m.perimeter.value, 76 + 2 * Math.PI, 1e-5);
    const area = areaProperties(section.outline);
    near(area.ixx / 26.118731, 1, 1e-6);
    near(area.iyy / 10330.900346, 1, 1e-6);
  });
  it('has the same radius by every definition', () => {
    for (const edge of [m.leadingEdge, m.trailingEdge])
      for (const value of [edge.radiusNose, edge.radiusFit, edge.ellipseB, edge.ellipseNoseRadius])
        near(value.value, 1, 1e-5);
  });
  it('is 2 thick everywhere, at no place in particular', () => {
    near(m.thicknessMax.value, 2, 1.3e-5);
    expect(m.thicknessMax.at).toBeNull();
    expect(m.thicknessMax.evidence?.plateau).toBe(true);
    for (const t of m.thicknessAt) near(t.value, 2, 1e-5);
    const { leading, trailing } = lineOf(section);
    near(leading.x, -19, 1e-5);
    near(trailing.x, 19, 1e-5);
  });
  it('has a longest chord and only a flat for a bitangent', () => {
    near(m.chordFar.value, 40, 1e-6);
    expect(m.chordBitangent).toMatchObject({ status: 'not-applicable', value: null, evidence: { flat: true } });
    expect(m.staggerBitangentDeg.status).toBe('not-applicable');
  });
});

describe('plate with 3:1 elliptic ends', () => {
  const section = sectionOf(platePoints(40, 3, 1, 1000, 1000));
  it('has its area, perimeter and second moments', () => {
    const area = areaProperties(section.outline);
    near(area.area, 68 + 3 * Math.PI, 1e-5);
    near(area.perimeter, 81.364893, 1e-5);
    near(area.ixx / 25.022861, 1, 1e-6);
    near(area.iyy / 9703.633248, 1, 1e-6);
  });
  it('shows each radius as its definition wants it', () => {
    const m = measureSection(section);
    near(m.leadingEdge.radiusNose.value, 1 / 3, 1e-4);
    for (const [half, radius] of [
      [30, 0.353897],
      [45, 0.391359],
      [60, 0.479846],
      [80, 0.841319],
    ]) {
      const own = measureSection(section, { edgeHalfAngleDeg: half });
      near(own.leadingEdge.radiusFit.value, radius, 1e-4);
      near(own.trailingEdge.radiusFit.value, radius, 1e-4);
    }
    near(m.leadingEdge.ellipseA.value, 3, 1e-4);
    near(m.leadingEdge.ellipseB.value, 1, 1e-5);
    near(m.leadingEdge.ellipseNoseRadius.value, 1 / 3, 1e-5);
  });
  it('has the cut thickness, fullness and symmetry of the ellipse', () => {
    const m = measureSection(section, { setbacks: [1], formSetback: 1.5 });
    near(m.leadingEdge.thicknessAt[0].value, 2 * Math.sqrt(1 - (2 / 3) ** 2), 1e-5);
    near(m.leadingEdge.fullness.value, 0.7092, 1e-5);
    near(measureSection(section, { formSetback: 3 }).leadingEdge.fullness.value, Math.PI / 4, 1e-5);
    near(m.leadingEdge.asymmetry.value, 0, 1e-6);
  });
  it('ends its line of centres at the osculating circle', () => {
    const { leading } = lineOf(section);
    near(leading.radius, 1 / 3, 1e-4);
    near(leading.x, -17 - 8 / 3, 1e-4);
  });
});

describe('ellipse 20 : 2', () => {
  const section = sectionOf(ellipsePoints(20, 2, 4000));
  it('has the radii b √(1 − x² / (a² − b²)) along its line of centres', () => {
    let worst = 0;
    for (const circle of lineOf(section).circles)
      worst = Math.max(worst, Math.abs(circle.radius - 2 * Math.sqrt(1 - circle.x ** 2 / 396)), Math.abs(circle.y));
    expect(worst).toBeLessThan(2e-6);
  });
  it('has its area, perimeter, chord and no concave side', () => {
    const m = measureSection(section);
    near(m.area.value, 40 * Math.PI, 1e-5);
    near(m.perimeter.value, 81.279484, 1e-5);
    near(m.chordFar.value, 40, 1e-6);
    near(m.thicknessMax.value, 4, 1e-6);
    near(m.thicknessMax.at, 0.5, 1e-5);
    expect(m.chordBitangent).toMatchObject({ status: 'not-applicable', evidence: { flat: false } });
    const { leading } = lineOf(section);
    near(leading.x, -19.8, 1e-4);
    near(leading.radius, 0.2, 1e-4);
  });
});

describe('disc-envelope section on a circular arc', () => {
  const section = sectionOf(diskPoints(CAMBERED, 1400, 600));
  const m = measureSection(section);
  const line = lineOf(section);
  const sine = 50 * Math.sin(Math.PI / 9);
  it('has its discs as inscribed circles', () => {
    const drop = 50 * Math.cos(Math.PI / 9);
    let worst = 0;
    for (const c of line.circles) {
      const u = (Math.atan2(c.x, c.y + drop) * (180 / Math.PI) + 20) / 40;
      worst = Math.max(worst, Math.abs(c.radius - CAMBERED.radius(u)), Math.abs(Math.hypot(c.x, c.y + drop) - 50));
    }
    expect(worst).toBeLessThan(2e-6);
    near(line.length, (50 * 2 * Math.PI) / 9, 1e-5);
    near(line.leading.x, -sine, 1e-5);
    near(line.trailing.x, sine, 1e-5);
    near(line.leading.radius, 0.5, 2e-6);
    near(line.trailing.radius, 0.3, 2e-6);
  });
  it('has the thickness of its discs', () => {
    const at = measureSection(section, { fractions: [0.1, 0.25, 0.5, 0.75, 0.9] }).thicknessAt;
    at.forEach((t, k) => {
      near(t.value, [1.896, 2.85, 3.4, 2.65, 1.576][k], 4e-6);
      expect(t.definition).toBe('T-MIC');
    });
    near(m.thicknessMax.value, 1 + 25 / 10.4, 4e-6);
    near(m.thicknessMax.at, 5 / 10.4, 1e-5);
  });
  it('has its chords and staggers', () => {
    near(m.chordFar.value, 2 * sine + 0.8, 1e-5);
    near(m.chordAxial.value, 35.002014, 1e-5);
    near(m.chordBitangent.value, Math.sqrt(4 * sine * sine - 0.04) + 0.8, 1e-5);
    near(m.chordCamber.value, 34.953835, 1e-5);
    near(m.staggerFarDeg.value, 0, 1e-4);
    near(m.staggerBitangentDeg.value, (Math.asin(0.2 / (2 * sine)) * 180) / Math.PI, 1e-4);
    near(m.staggerCamberDeg.value, 0.112127, 1e-4);
    near(m.leadingEdge.pointX.value, -17.570853, 1e-5);
    near(m.leadingEdge.pointY.value, -0.17101, 1e-5);
    near(m.trailingEdge.pointX.value, 17.382915, 1e-5);
    near(m.trailingEdge.pointY.value, -0.102606, 1e-5);
  });
  it('has its camber and area properties', () => {
    near(m.camberAngleDeg.value, 40, 1e-5);
    near(m.metalAngleLeadingDeg.value, 20, 1e-5);
    near(m.metalAngleTrailingDeg.value, -20, 1e-5);
    near(m.camberMax.value, 50 - 50 * Math.cos(Math.PI / 9), 1e-5);
    near(m.area.value, 89.201329, 1e-5);
    near(m.perimeter.value, 72.586095, 1e-5);
    near(m.centroidX.value, -0.498297, 1e-5);
    near(m.centroidY.value, 2.2788, 1e-5);
    near(m.principalAxisDeg.value, 0.461959, 1e-5);
    const area = areaProperties(section.outline);
    near(area.ixx / 114.173038, 1, 1e-6);
    near(area.iyy / 6565.697255, 1, 1e-6);
    near(area.ixy / 52.021281, 1, 1e-5);
  });
  it('has its edge radii, and no uncertainty without noise', () => {
    near(m.leadingEdge.radiusFit.value, 0.5, 1e-5);
    near(m.trailingEdge.radiusFit.value, 0.3, 1e-5);
    near(m.leadingEdge.radiusNose.value, 0.5, 1e-4);
    expect(m.leadingEdge.radiusFit.u).toBeNull();
    expect(m.area.u).toBeNull();
  });
});

describe('4-digit section with a closed trailing edge', () => {
  const section = sectionOf(nacaPoints(1, 2000), [0]);
  const m = measureSection(section, {
    fractions: [0.05, 0.1, 0.5, 0.9],
    fractionsAlong: 'chord',
    setbacks: [0.05, 0.1, 0.5],
    formSetback: 0.05,
  });
  it('has its area properties', () => {
    near(m.area.value, 0.081706, 1e-6);
    near(m.centroidX.value, 0.417889, 1e-6);
    near(m.perimeter.value, 2.039549, 1e-6);
    near(areaProperties(section.outline).ixx / 6.777024e-5, 1, 1e-6);
  });
  it('has its inscribed and its cut thickness', () => {
    near(m.thicknessMax.value, 0.120014, 1e-6);
    near(m.thicknessMax.at, 0.299528, 2e-6);
    m.thicknessAt.forEach((t, k) => {
      near(t.value, [0.067518, 0.092236, 0.105506, 0.027079][k], 1e-6);
    });
    for (const t of m.leadingEdge.thicknessAt) near(t.value, 2 * nacaHalf(t.setback), 1e-6);
    near(m.trailingEdge.thicknessAt[1].value, 2 * nacaHalf(0.9), 1e-6);
  });
  it('has a nose radius, and none at its sharp trailing edge', () => {
    near(m.leadingEdge.radiusNose.value, (5 * 0.2969 * 0.12) ** 2 / 2, 1e-5);
    for (const value of [m.trailingEdge.radiusNose, m.trailingEdge.radiusFit, m.trailingEdge.ellipseB]) {
      expect(value).toMatchObject({ status: 'not-applicable', value: null });
      expect(value.reason).toContain('sharp');
    }
    near(m.trailingEdge.pointX.value, 1, 1e-9);
    near(m.camberAngleDeg.value, 0, 1e-6);
  });
});

describe('Joukowski section with a cusp', () => {
  const m = measureSection(sectionOf(joukowskiPoints(4000), [0]), { setbacks: [0.1], formSetback: 0.1 });
  it('has its chord, area, thickness and nose radius', () => {
    near(m.chordFar.value, 4 + 0.04 / 1.2, 1e-6);
    near(m.area.value, Math.PI * (1.21 - 1.21 / 1.2 ** 2), 1e-6);
    near(m.centroidX.value, -0.516667, 1e-6);
    near(m.perimeter.value, 8.230023, 1e-6);
    near(m.thicknessMax.value, 0.47533, 1e-6);
    near(m.leadingEdge.radiusNose.value, 0.065054, 1e-5);
  });
  it('has no radius at the cusp and no bitangent that rests on both edges', () => {
    for (const value of [m.trailingEdge.radiusNose, m.trailingEdge.radiusFit, m.trailingEdge.ellipseNoseRadius])
      expect(value).toMatchObject({ status: 'not-applicable', value: null });
    expect(m.chordBitangent.status).toBe('not-applicable');
  });
});

describe('parabola with a flat back', () => {
  /** Parabola y² = 0.64 x / 12 from the nose at 0 to a back 1.6 thick at x = 12. */
  const points: number[] = [];
  for (let i = 0; i < 40; i++) points.push(12, -0.8 + 0.04 * i);
  for (let i = 0; i < 2000; i++) {
    const y = 0.8 * Math.cos((Math.PI * i) / 2000);
    points.push((12 * y * y) / 0.64, y);
  }
  const section = sectionOf(Float64Array.from(points), [0, 40]);
  const m = measureSection(section);
  it('stops at the circle that touches the back and has no radius there', () => {
    const { trailing } = lineOf(section);
    expect(trailing.kind).toBe('flat');
    near(trailing.x + trailing.radius, 12, 1e-6);
    for (const value of [m.trailingEdge.radiusNose, m.trailingEdge.radiusFit, m.trailingEdge.ellipseB])
      expect(value).toMatchObject({ status: 'not-applicable', value: null });
    near(m.trailingEdge.pointX.value, 12, 1e-6);
    near(m.leadingEdge.radiusNose.value, 0.64 / 24, 1e-4);
  });
});
