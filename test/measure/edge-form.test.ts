import { describe, expect, it } from 'vitest';
import { noseTilt } from '../../src/measure/edge-symmetry.ts';
import { type AtEdge, contextOf, edgesOf, mirrored, polygonPoints, roundedPlate } from './edge-shapes.ts';
import { CAMBERED, diskPoints, moved, nacaPoints, platePoints, sectionOf } from './shapes.ts';

const ellipse = edgesOf(sectionOf(platePoints(40, 3, 1, 1000, 1000)));
const round = edgesOf(sectionOf(platePoints(40, 1, 1, 1400, 600)));
const square = edgesOf(
  sectionOf(
    polygonPoints(
      [
        [-15, -1],
        [15, -1],
        [15, 1],
        [-15, 1],
      ],
      200,
    ),
    [0, 200, 400, 600],
  ),
);
const form = (at: AtEdge, id: string, parameters = {}) => at('leading', 'edge-form', id, parameters);

describe('fullness', () => {
  /** Area of a half ellipse of unit axes up to a depth t of its axis, over t times the thickness there. */
  const ofEllipse = (t: number) => {
    const angle = Math.acos(1 - t);
    return (angle - (1 - t) * Math.sin(angle)) / (2 * t * Math.sin(angle));
  };
  it('is that of the ellipse at every set-back', () => {
    expect(ofEllipse(1)).toBeCloseTo(Math.PI / 4, 12);
    expect(ofEllipse(0.5)).toBeCloseTo(0.7092, 6);
    expect(ofEllipse(0.25)).toBeCloseTo(0.685343, 6);
    for (const share of [0.25, 0.5, 1])
      expect(form(ellipse, 'F-EDGE', { setback: 3 * share }).value).toBeCloseTo(ofEllipse(share), 6);
  });
  it('is 1 on a square end, 2/3 on a parabola and 1/2 on a wedge', () => {
    expect(form(square, 'F-EDGE').value).toBeCloseTo(1, 6);
    const points: number[] = [];
    for (let i = 0; i < 40; i++) points.push(12, -0.8 + 0.04 * i);
    for (let i = 0; i < 2000; i++) {
      const y = 0.8 * Math.cos((Math.PI * i) / 2000);
      points.push((12 * y * y) / 0.64, y);
    }
    const parabola = edgesOf(sectionOf(Float64Array.from(points), [0, 40]));
    expect(form(parabola, 'F-EDGE').value).toBeCloseTo(2 / 3, 5);
    const rhombus: [number, number][] = [
      [-20, 0],
      [0, -1.5],
      [20, 0],
      [0, 1.5],
    ];
    const wedge = edgesOf(sectionOf(polygonPoints(rhombus, 200), [0, 200, 400, 600]));
    expect(form(wedge, 'F-EDGE', { setback: 2 }).value).toBeCloseTo(0.5, 6);
  });
});

describe('flat length', () => {
  it('is the chord whose sagitta is the width', () => {
    for (const width of [0.002, 0.005, 0.02])
      expect(form(round, 'FLAT', { width }).value).toBeCloseTo(2 * Math.sqrt(2 * width - width * width), 3);
  });
  it('is the whole of a flat end', () => {
    expect(form(square, 'FLAT').value).toBeCloseTo(2, 2);
    const between = form(edgesOf(sectionOf(roundedPlate(0.4, 1400, 300, 200))), 'FLAT').value as number;
    // The flat of 1.2 and on both corners what rises by half the width in all.
    expect(between).toBeGreaterThan(1.2);
    expect(between).toBeLessThan(1.2 + 2 * Math.sqrt(2 * 0.4 * 0.005));
  });
});

describe('corners', () => {
  const cornered = edgesOf(sectionOf(roundedPlate(0.4, 1400, 300, 200)));
  it('have the radius of the sharpest place', () => {
    expect(form(cornered, 'CORNER').value).toBeCloseTo(0.4, 2);
    // The radius of curvature of the ellipse grows by 1.5 (1 − b² / a²) times the squared angle of the normal.
    const mean = (1 / 3) * (1 + (4 / 3) * ((2.5 * Math.PI) / 180) ** 2 * (1 / 3));
    expect(form(ellipse, 'CORNER').value).toBeCloseTo(mean, 3);
    expect(Math.abs((form(round, 'CORNER').value as number) - 1)).toBeLessThan(5e-3);
  });
  it('are two, a right angle apart, on a square end', () => {
    const value = form(cornered, 'CORNERS-2');
    expect(value.value).toBeCloseTo(90, 2);
    expect(value.evidence?.corners).toBe(2);
    const sharp = form(square, 'CORNERS-2');
    expect(sharp.value).toBeCloseTo(90, 6);
    expect(sharp.evidence?.radii).toEqual([0, 0]);
    expect(form(cornered, 'CORNERS-2', { separationDeg: 95 }).status).toBe('not-applicable');
  });
  it('are not two on an ellipse or a circle', () => {
    for (const at of [ellipse, round]) {
      const value = form(at, 'CORNERS-2');
      expect(value).toMatchObject({ status: 'not-applicable', value: null });
      expect(value.reason).toMatch(/one corner|no corner/);
    }
  });
});

describe('symmetry of an edge', () => {
  it('is whole on a symmetric section', () => {
    for (const setback of [0.5, 1, 2]) {
      for (const id of ['ASYM', 'ASYM-NOSE', 'NOSE-TILT'])
        expect(Math.abs(form(ellipse, id, { setback }).value as number), id).toBeLessThan(1e-7);
    }
  });
  it('turns with the nose against the camber line', () => {
    const context = contextOf(sectionOf(platePoints(40, 3, 1, 1000, 1000)));
    const { leading } = context;
    if (!leading) throw new Error('no edge');
    for (const turnDeg of [-2, 1, 3]) {
      const turn = (turnDeg * Math.PI) / 180;
      const outX = Math.cos(turn) * leading.outX - Math.sin(turn) * leading.outY;
      const outY = Math.sin(turn) * leading.outX + Math.cos(turn) * leading.outY;
      const suction = context.section.edges.firstSide === 'suction' ? 1 : -1;
      expect(noseTilt(context, { ...leading, outX, outY }, 1).value).toBeCloseTo(-suction * turnDeg, 3);
    }
  });
  it('has no direction on a circle', () => {
    expect(form(round, 'NOSE-TILT', { setback: 0.5 })).toMatchObject({ status: 'not-applicable', value: null });
    expect(form(round, 'NOSE-TILT', { setback: 2 }).value).toBeCloseTo(0, 6);
  });
});

describe('edge measures', () => {
  const points = diskPoints(CAMBERED, 700, 300);
  const reference = edgesOf(sectionOf(points));
  const angle = (23 * Math.PI) / 180;
  const asked = [
    ['edge-form', ['F-EDGE', 'FLAT', 'CORNER', 'ASYM', 'ASYM-NOSE', 'NOSE-TILT']],
    ['edge-radius', ['R-LSQ', 'R-SB', 'R-OSC', 'R-MIC', 'R-END', 'E-AB']],
    ['edge-thickness', ['T-ORD', 'T-CAM', 'T-MIC']],
  ] as const;
  it.each([
    ['turned', moved(points, angle, [3, -8], 120, -45)],
    ['mirrored', mirrored(points)],
  ])('are the same on the section %s', (_, other) => {
    const at = edgesOf(sectionOf(other));
    for (const [quantity, ids] of asked)
      for (const id of ids)
        for (const edge of ['leading', 'trailing'] as const) {
          // The sharpest turn is found at one of 1200 places.
          const tolerance = id === 'CORNER' ? 1e-4 : 1e-6;
          const was = reference(edge, quantity, id, {}, 1).value as number;
          expect(Math.abs((at(edge, quantity, id, {}, 1).value as number) - was), `${edge} ${id}`).toBeLessThan(
            tolerance,
          );
        }
  });
  it('are not measured where points are missing', () => {
    const section = sectionOf(points);
    const { leading } = section.edges;
    const { period } = section.outline;
    const covered = (from: number, to: number) => {
      const at = leading - period * Math.floor((leading - from) / period);
      return at > to + 0.6 && at - period < from - 0.6;
    };
    const at = edgesOf({ ...section, covered });
    for (const [quantity, ids] of asked)
      for (const id of ids) {
        const value = at('leading', quantity, id, {}, 1);
        expect(value, id).toMatchObject({ status: 'not-measured', value: null, definition: id });
        expect(value.reason).toContain('leading edge');
        expect(at('trailing', quantity, id, {}, 1).status).toBe('ok');
      }
  });
  it('are refused on a sharp edge, but for its fullness', () => {
    const naca = edgesOf(sectionOf(nacaPoints(1, 1000), [0]));
    for (const id of ['FLAT', 'CORNER', 'CORNERS-2', 'NOSE-TILT']) {
      const value = naca('trailing', 'edge-form', id, id === 'FLAT' ? {} : { setback: 0.05 });
      expect(value, id).toMatchObject({ status: 'not-applicable', value: null });
    }
    expect(naca('trailing', 'edge-form', 'F-EDGE', { setback: 0.02 }).value).toBeCloseTo(0.5, 2);
  });
});
