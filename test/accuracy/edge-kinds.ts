import { LEADING, type Piece, TRAILING } from '../../samples/section-form.ts';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import type { EdgeKind } from '../../src/measure/edge-class.ts';
import { edgeFormClass } from '../../src/measure/edge-form-class.ts';
import {
  type Departure,
  REFERENCE_SECTIONS,
  type ReferenceName,
  type ReferenceSection,
  referencePoint,
  sectionPoints,
} from '../support/reference-sections.ts';
import { exactSection, POINTS } from './section-statistics.ts';

/** Forms of an edge that are to be told, by name: the kind, and the departure by place. */
export const EDGE_FORMS = ['unchanged', 'blunt', 'pointed', 'flat', 'flat off the nose', 'second harmonic'] as const;
export type EdgeFormName = (typeof EDGE_FORMS)[number];

export const KIND_OF_FORM: Record<EdgeFormName, EdgeKind> = {
  unchanged: 'as nominal',
  blunt: 'blunt',
  pointed: 'pointed',
  flat: 'flat',
  'flat off the nose': 'flat',
  'second harmonic': 'asymmetric',
};

export type EdgeName = 'leading' | 'trailing';

/** A form on one edge of a section over a stretch of seeds. */
export interface EdgeTask {
  name: ReferenceName;
  edge: EdgeName;
  form: EdgeFormName;
  /** Size of the change of form (mm). */
  change: number;
  noise: number;
  from: number;
  count: number;
}

/** What one edge was found to be; null kind where it was not told. */
export interface EdgeFinding {
  kind: EdgeKind | null;
  /** Size found, without its sign, and its standard uncertainty (mm); null where there is none. */
  amplitude: number | null;
  u: number | null;
}

/** Spread of the shift of the whole part (mm): the form is told whatever the place. */
const SHIFT = 0.03;
const OFF_NOSE = 0.35;

/** Returns what each seed's edge was found to be, points of the whole section given, against the exact section. */
export function edgeKinds({ name, edge, form, change, noise, from, count }: EdgeTask): EdgeFinding[] {
  const nominal = exactSection(name).context;
  const reference = REFERENCE_SECTIONS[name];
  const departure = departureOf(reference, edge === 'leading' ? LEADING : TRAILING, form, change);
  return Array.from({ length: count }, (_, k): EdgeFinding => {
    const seed = from + k;
    const points = sectionPoints(reference, POINTS, noise, seed, departure);
    const normal = normalFrom(seededRandom(seed + 200_000));
    const shift = [SHIFT * normal(), SHIFT * normal()];
    const moved = points.map((v, i) => v + shift[i % 2]);
    const { form: found } = edgeFormClass(nominal, edge, moved, noise);
    const value = found?.value ?? null;
    return { kind: found?.kind ?? null, amplitude: value === null ? null : Math.abs(value), u: found?.u ?? null };
  });
}

/** The change of form as a departure along the normal, by piece and place. */
function departureOf(reference: ReferenceSection, edge: Piece, form: EdgeFormName, change: number): Departure {
  const nose = new Float64Array(5);
  const out = new Float64Array(5);
  referencePoint(reference, edge, 0, nose);
  const angleAt = (t: number): number => {
    referencePoint(reference, edge, t, out);
    return Math.atan2(nose[2] * out[3] - nose[3] * out[2], nose[2] * out[2] + nose[3] * out[3]);
  };
  const cut = form === 'flat' || form === 'flat off the nose' ? chordCut(form === 'flat' ? 0 : OFF_NOSE) : null;

  /** Cut by a straight line whose normal is turned from the nose's, as deep as the change. */
  function chordCut(turn: number): Departure {
    const mx = Math.cos(turn) * nose[2] - Math.sin(turn) * nose[3];
    const my = Math.sin(turn) * nose[2] + Math.cos(turn) * nose[3];
    const at = new Float64Array(5);
    let support = Number.NEGATIVE_INFINITY;
    for (let t = -1; t <= 1; t += 1e-4) {
      referencePoint(reference, edge, t, at);
      support = Math.max(support, mx * at[0] + my * at[1]);
    }
    return (_, t) => {
      referencePoint(reference, edge, t, at);
      const over = mx * at[0] + my * at[1] - (support - change);
      return over > 0 ? -over / (mx * at[2] + my * at[3]) : 0;
    };
  }

  return (piece, t) => {
    if (piece !== edge || form === 'unchanged') return 0;
    if (cut) return cut(piece, t);
    const angle = angleAt(t);
    if (form === 'second harmonic') return change * Math.sin(2 * angle);
    return (form === 'blunt' ? -change : change) * Math.cos(angle) ** 2;
  };
}
