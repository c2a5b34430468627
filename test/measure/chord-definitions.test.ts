import { describe, expect, it } from 'vitest';
import type { Quantity } from '../../src/measure/definitions/definition.ts';
import { definitionsOf } from '../../src/measure/definitions/definitions.ts';
import { flankAt, least, RAD } from './closed-forms.ts';
import { measureOf } from './measure-place.ts';
import {
  CAMBERED,
  diskPoints,
  ellipsePoints,
  joukowskiPoints,
  moved,
  nacaPoints,
  platePoints,
  sectionOf,
} from './shapes.ts';

const points = diskPoints(CAMBERED, 1400, 600);
const cambered = measureOf(sectionOf(points));
/** Half the distance of the end-circle centres, and both end radii. */
const sine = 50 * Math.sin(20 * RAD);
const [rL, rT] = [0.5, 0.3];

/** Edge points where the line of centres is carried on straight, or with its own radius of 50. */
function edgePoints(extension: 'straight' | 'arc'): [number, number, number, number] {
  if (extension === 'straight') {
    const [c, s] = [Math.cos(20 * RAD), Math.sin(20 * RAD)];
    return [-sine - rL * c, -rL * s, sine + rT * c, -rT * s];
  }
  const at = (angle: number) => [50 * Math.sin(angle), 50 * (Math.cos(angle) - Math.cos(20 * RAD))];
  const [x1, y1] = at(-20 * RAD - 2 * Math.asin(rL / 100));
  const [x2, y2] = at(20 * RAD + 2 * Math.asin(rT / 100));
  return [x1, y1, x2, y2];
}

describe('chords', () => {
  it('lead with the longest', () => {
    expect(definitionsOf('chord').map((d) => d.id)).toEqual(['CH-FAR', 'CH-BT', 'CH-CAM', 'CH-AX']);
    expect(definitionsOf('stagger').map((d) => d.id)).toEqual(['CH-FAR', 'CH-BT', 'CH-CAM']);
  });
  it('of the cambered section', () => {
    expect(cambered('chord', 'CH-FAR').value).toBeCloseTo(2 * sine + rL + rT, 5);
    const bitangent = cambered('chord', 'CH-BT');
    expect(bitangent.value).toBeCloseTo(Math.sqrt(4 * sine * sine - (rL - rT) ** 2) + rL + rT, 5);
    const { x1, y1, x2, y2 } = bitangent.evidence as Record<string, number>;
    expect(Math.hypot(x2 - x1, y2 - y1)).toBeCloseTo(bitangent.value as number, 9);
    expect(cambered('chord', 'CH-AX').value).toBeCloseTo(2 * sine + rL + rT, 5);
    const top = -least((u) => -flankAt(u, 1)[1], 0.2, 0.8);
    expect(cambered('chord', 'CH-AX', { direction: 'tangential' }).value).toBeCloseTo(top + rL, 5);
  });
  it.each(['straight', 'arc'] as const)('ends of the line of centres carried on %s', (extension) => {
    const [x1, y1, x2, y2] = edgePoints(extension);
    const chord = cambered('chord', 'CH-CAM', { extension });
    expect(chord.value).toBeCloseTo(Math.hypot(x2 - x1, y2 - y1), 5);
    expect(chord.parameters).toEqual({ extension });
    for (const [key, right] of Object.entries({ x1, y1, x2, y2 })) expect(chord.evidence?.[key]).toBeCloseTo(right, 5);
    expect(cambered('stagger', 'CH-CAM', { extension }).value).toBeCloseTo(Math.atan2(y2 - y1, x2 - x1) / RAD, 4);
  });
  it('of plates, ellipse, closed and cusped sections', () => {
    const plate = measureOf(sectionOf(platePoints(40, 1, 1, 1400, 600)));
    expect(plate('chord', 'CH-FAR').value).toBeCloseTo(40, 6);
    expect(plate('chord', 'CH-BT')).toMatchObject({ status: 'not-applicable', evidence: { flat: true } });
    const across = plate('chord', 'CH-AX', { direction: 'tangential' }).value as number;
    expect(Math.abs(across - 2)).toBeLessThan(1e-5);
    const ellipse = measureOf(sectionOf(ellipsePoints(20, 2, 4000)));
    expect(ellipse('chord', 'CH-FAR').value).toBeCloseTo(40, 6);
    expect(ellipse('stagger', 'CH-BT')).toMatchObject({ status: 'not-applicable', evidence: { flat: false } });
    expect(measureOf(sectionOf(nacaPoints(1, 2000), [0]))('chord', 'CH-FAR').value).toBeCloseTo(1, 8);
    expect(measureOf(sectionOf(joukowskiPoints(4000), [0]))('chord', 'CH-FAR').value).toBeCloseTo(4 + 0.04 / 1.2, 6);
  });
});

describe('every definition of the whole section', () => {
  const quantities: Quantity[] = [
    'chord',
    'stagger',
    'metal-angle',
    'camber-angle',
    'camber-max',
    'thickness',
    'thickness-max',
    'area-property',
    'throat',
  ];
  it.each(quantities.flatMap(definitionsOf).map((d) => [d.quantity, d.id, d] as const))(
    '%s by %s records its id, unit and parameters',
    (quantity, id, definition) => {
      const given = quantity === 'throat' ? { pitch: 25 } : {};
      const value = cambered(quantity, id, given, { edge: 'leading', at: 0.5 });
      expect(value).toMatchObject({ definition: id, unit: definition.unit, status: 'ok', u: null });
      for (const spec of definition.parameters) {
        const wanted = spec.name in given ? 25 : spec.default;
        expect(value.parameters?.[spec.name]).toBe(wanted);
      }
    },
  );
});

describe('staggers', () => {
  it('count from axial, or as the complement from tangential', () => {
    const delta = Math.asin((rL - rT) / (2 * sine)) / RAD;
    expect(cambered('stagger', 'CH-BT').value).toBeCloseTo(delta, 4);
    expect(cambered('stagger', 'CH-BT', { from: 'tangential' }).value).toBeCloseTo(90 - delta, 4);
    expect(cambered('stagger', 'CH-FAR').value).toBeCloseTo(0, 4);
  });
  it('turn with the section, and change sign with its mirror image', () => {
    const turned = measureOf(sectionOf(moved(points, 33 * RAD, [3, -8], 120, -45)));
    const flipped = Float64Array.from(points, (_, k) => {
      const i = points.length / 2 - 1 - (k >> 1);
      return k % 2 === 0 ? points[2 * i] : -points[2 * i + 1];
    });
    const mirrored = measureOf(sectionOf(flipped));
    for (const id of ['CH-FAR', 'CH-BT', 'CH-CAM']) {
      const was = cambered('stagger', id).value as number;
      expect(turned('stagger', id).value).toBeCloseTo(was + 33, 6);
      expect(mirrored('stagger', id).value).toBeCloseTo(-was, 6);
      expect(turned('chord', id).value).toBeCloseTo(cambered('chord', id).value as number, 8);
      expect(mirrored('chord', id).value).toBeCloseTo(cambered('chord', id).value as number, 8);
    }
  });
});
