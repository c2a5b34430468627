import { expect, test } from 'vitest';
import { evaluateOutline } from '../../src/fit/outline-evaluate.ts';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import { edgeFormClass } from '../../src/measure/edge-form-class.ts';
import { MEASURE_DEFAULTS } from '../../src/measure/measure-options.ts';
import { sectionContext } from '../../src/measure/section-context.ts';
import { exactLoft } from '../support/exact-nominal.ts';

const NOISE = 0.005;
const section = exactLoft(3, 400)[1];
const nominal = sectionContext({ outline: section.outline, edges: section.edges }, MEASURE_DEFAULTS);
/** Unit vector from the leading edge's end circle outward, and its nose. */
const edge = leadingEdge();

/** Points of the whole outline, 300 a mm, moved and noisy, with a departure by the cosine of the normal to the nose's. */
function points(shift: [number, number], form: (cosine: number, near: boolean) => number): Float64Array {
  const { outline } = section;
  const normal = normalFrom(seededRandom(11));
  const count = Math.round(300 * outline.period);
  const found = new Float64Array(2 * count);
  const out = new Float64Array(8);
  for (let i = 0; i < count; i++) {
    evaluateOutline(outline, outline.knots[0] + (outline.period * (i + 0.5)) / count, out);
    const speed = Math.hypot(out[2], out[3]);
    const [nx, ny] = [out[3] / speed, -out[2] / speed];
    const near = Math.hypot(out[0] - edge.pointX, out[1] - edge.pointY) < 2;
    const push = NOISE * normal() + form(nx * edge.outX + ny * edge.outY, near);
    found[2 * i] = out[0] + shift[0] + push * nx;
    found[2 * i + 1] = out[1] + shift[1] + push * ny;
  }
  return found;
}

test('an edge moved by a third of its radius is as nominal, and both edges of a section are', () => {
  const moved = points([0.07, -0.09], () => 0);
  for (const which of ['leading', 'trailing'] as const) {
    const { form, faults } = edgeFormClass(nominal, which, moved, NOISE);
    expect([form?.kind, faults.length]).toEqual(['as nominal', 0]);
  }
});

test('a blunt edge is told and listed, its amplitude within three standard uncertainties of 3 µm', () => {
  const blunt = points([0.05, 0.04], (cosine, near) => (near && cosine > 0 ? -0.03 * cosine ** 2 : 0));
  const { form, faults } = edgeFormClass(nominal, 'leading', blunt, NOISE);
  expect(form?.kind).toBe('blunt');
  expect(form?.u ?? 1).toBeLessThan(0.003);
  expect(Math.abs((form?.value ?? 0) + 0.03)).toBeLessThan(3 * (form?.u ?? 0));
  expect(faults.map((fault) => fault.code)).toEqual(['edge/blunt']);
});

test.each([
  ['larger', 0.02],
  ['smaller', -0.012],
])('an evenly %s edge is no fault of form', (kind, change) => {
  const { form, faults } = edgeFormClass(
    nominal,
    'leading',
    points([0.05, 0.04], (cosine, near) => (near && cosine > 0 ? change : 0)),
    NOISE,
  );
  expect([form?.kind, faults.length]).toEqual([kind, 0]);
  expect(Math.abs((form?.value ?? 0) - change)).toBeLessThan(3 * (form?.u ?? 0));
});

test('without points on the edge its form is not measured', () => {
  const all = points([0, 0], () => 0);
  const far: number[] = [];
  for (let i = 0; i < all.length; i += 2) {
    if (Math.hypot(all[i] - edge.pointX, all[i + 1] - edge.pointY) > 0.3) far.push(all[i], all[i + 1]);
  }
  const { form, faults } = edgeFormClass(nominal, 'leading', Float64Array.from(far), NOISE);
  expect([form?.status, form?.kind, faults.length]).toEqual(['not-measured', null, 0]);
});

function leadingEdge() {
  if (!nominal.leading) throw new Error('The sample section has a leading edge.');
  return nominal.leading;
}
