import { type SectionArea, sectionArea } from './section-area.ts';
import { arcLength, LEADING, radiusAt, type SectionForm, TRAILING } from './section-form.ts';

const DEG = 180 / Math.PI;
const law = new Float64Array(3);

/** Blade-frame centre and tangent direction (LE → TE) of the line of centres at the end of the arc. */
function arcEnd(form: SectionForm, piece: typeof LEADING | typeof TRAILING): { x: number; y: number; heading: number } {
  const half = ((piece === LEADING ? -1 : 1) * form.turning) / 2;
  const x = form.arcRadius * Math.sin(half);
  const y = form.arcRadius * (Math.cos(half) - 1);
  const [cos, sin] = [Math.cos(form.angle), Math.sin(form.angle)];
  return { x: form.x + cos * x - sin * y, y: form.y + sin * x + cos * y, heading: form.angle - half };
}

/** Furthest reach of an edge's ellipse from its centre in direction `bearing` (rad). */
function edgeReach(form: SectionForm, piece: typeof LEADING | typeof TRAILING, bearing: number): number {
  const b = piece === LEADING ? form.leading : form.trailing;
  const { heading } = arcEnd(form, piece);
  return b * Math.hypot(form.ratio * Math.cos(bearing - heading), Math.sin(bearing - heading));
}

/** Signed quantity of a direction whose zero is looked for by bisection between two bearings. */
function zeroBetween(low: number, high: number, of: (bearing: number) => number): number {
  const rising = of(high) > of(low);
  for (let i = 0; i < 100; i++) {
    const middle = (low + high) / 2;
    if (of(middle) > 0 === rising) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}

/** Extent of the section along a bearing that points roughly from the leading to the trailing edge. */
function extent(form: SectionForm, bearing: number): number {
  const [le, te] = [arcEnd(form, LEADING), arcEnd(form, TRAILING)];
  const along = (te.x - le.x) * Math.cos(bearing) + (te.y - le.y) * Math.sin(bearing);
  return along + edgeReach(form, LEADING, bearing) + edgeReach(form, TRAILING, bearing);
}

/** Longest distance between two outline points: the greatest extent over all bearings. */
function farthest(form: SectionForm): { length: number; bearing: number } {
  const slope = (bearing: number): number => {
    const [le, te] = [arcEnd(form, LEADING), arcEnd(form, TRAILING)];
    let value = (te.y - le.y) * Math.cos(bearing) - (te.x - le.x) * Math.sin(bearing);
    for (const [piece, end] of [
      [LEADING, le],
      [TRAILING, te],
    ] as const) {
      const b = piece === LEADING ? form.leading : form.trailing;
      const turn = bearing - end.heading;
      value += (b * b * (1 - form.ratio ** 2) * Math.sin(turn) * Math.cos(turn)) / edgeReach(form, piece, bearing);
    }
    return value;
  };
  const bearing = zeroBetween(form.angle - 0.4, form.angle + 0.4, slope);
  return { length: extent(form, bearing), bearing };
}

/** Line tangent to both edges on the pressure side: bearing LE → TE, and the section's extent along it. */
function bitangent(form: SectionForm): { length: number; bearing: number } {
  const bearing = zeroBetween(form.angle - 0.4, form.angle + 0.4, (along) => {
    const normal = along - Math.PI / 2;
    const [le, te] = [arcEnd(form, LEADING), arcEnd(form, TRAILING)];
    const gap = (te.x - le.x) * Math.cos(normal) + (te.y - le.y) * Math.sin(normal);
    return gap + edgeReach(form, TRAILING, normal) - edgeReach(form, LEADING, normal);
  });
  return { length: extent(form, bearing), bearing };
}

/** Length of the straight part of the line of centres inside an elliptic edge; 0 for a circular one. */
function straightPart(form: SectionForm, b: number): number {
  return b * (form.ratio - 1 / form.ratio);
}

/** Radius of the inscribed circle whose centre lies at fraction `u` of the line of centres, end centre to end centre. */
export function inscribedRadius(form: SectionForm, u: number): number {
  const front = straightPart(form, form.leading);
  const arc = arcLength(form);
  const s = u * (front + arc + straightPart(form, form.trailing));
  if (s >= front && s <= front + arc) {
    radiusAt(form, (s - front) / arc, law);
    return law[0];
  }
  const [b, into] = s < front ? [form.leading, front - s] : [form.trailing, s - front - arc];
  return b * Math.sqrt(1 - into ** 2 / (b * b * (form.ratio ** 2 - 1)));
}

/** Exact values of one edge: nose point, curvature radius there and semi-axes. */
interface ExactEdge {
  pointX: number;
  pointY: number;
  radiusNose: number;
  /** Least-squares circle over ±60°: the edge's own circle; null for an elliptic edge. */
  radiusFit: number | null;
  ellipseA: number;
  ellipseB: number;
  ellipseNoseRadius: number;
}

function edgeValues(form: SectionForm, piece: typeof LEADING | typeof TRAILING): ExactEdge {
  const { x, y, heading } = arcEnd(form, piece);
  const b = piece === LEADING ? form.leading : form.trailing;
  const reach = (piece === LEADING ? -1 : 1) * form.ratio * b;
  return {
    pointX: x + reach * Math.cos(heading),
    pointY: y + reach * Math.sin(heading),
    radiusNose: b / form.ratio,
    radiusFit: form.ratio === 1 ? b : null,
    ellipseA: form.ratio * b,
    ellipseB: b,
    ellipseNoseRadius: b / form.ratio,
  };
}

/** Every characteristic of a section known in closed form. Millimetres and degrees, angles from +X in the blade frame. */
export interface ExactSection extends Omit<SectionArea, 'principalAxis'> {
  chordFar: number;
  chordBitangent: number;
  chordAxial: number;
  chordCamber: number;
  staggerFarDeg: number;
  staggerBitangentDeg: number;
  staggerCamberDeg: number;
  thicknessMax: number;
  thicknessMaxAt: number;
  thicknessAt: { fraction: number; value: number }[];
  principalAxisDeg: number;
  camberAngleDeg: number;
  metalAngleLeadingDeg: number;
  metalAngleTrailingDeg: number;
  /** Height of the line of centres above the line between its arc's ends, and above the CH-CAM chord. */
  camberMax: number;
  camberMaxFromChord: number;
  leadingEdge: ExactEdge;
  trailingEdge: ExactEdge;
}

/** Exact values of one section; chord and stagger definitions as in the results file. */
export function sectionValues(form: SectionForm): ExactSection {
  const far = farthest(form);
  const tangent = bitangent(form);
  const [leadingEdge, trailingEdge] = [edgeValues(form, LEADING), edgeValues(form, TRAILING)];
  const [dx, dy] = [trailingEdge.pointX - leadingEdge.pointX, trailingEdge.pointY - leadingEdge.pointY];
  const chordCamber = Math.hypot(dx, dy);
  const stagger = Math.atan2(dy, dx);
  // The line of centres is highest above the chord where it runs parallel to it.
  const turn = form.angle - stagger;
  const [px, py] = [form.arcRadius * Math.sin(turn), form.arcRadius * (Math.cos(turn) - 1)];
  const [cos, sin] = [Math.cos(form.angle), Math.sin(form.angle)];
  const top = [form.x + cos * px - sin * py - leadingEdge.pointX, form.y + sin * px + cos * py - leadingEdge.pointY];
  const front = straightPart(form, form.leading);
  const whole = front + arcLength(form) + straightPart(form, form.trailing);
  const a = Math.sqrt(form.most - form.leading);
  const peak = form.ratio === 1 ? a / (a + Math.sqrt(form.most - form.trailing)) : form.peak;
  const { principalAxis, ...area } = sectionArea(form);
  return {
    ...area,
    chordFar: far.length,
    chordBitangent: tangent.length,
    chordAxial: extent(form, 0),
    chordCamber,
    staggerFarDeg: far.bearing * DEG,
    staggerBitangentDeg: tangent.bearing * DEG,
    staggerCamberDeg: stagger * DEG,
    thicknessMax: 2 * form.most,
    thicknessMaxAt: (front + peak * arcLength(form)) / whole,
    thicknessAt: [0.1, 0.25, 0.5, 0.75, 0.9].map((u) => ({ fraction: u, value: 2 * inscribedRadius(form, u) })),
    principalAxisDeg: principalAxis * DEG,
    camberAngleDeg: form.turning * DEG,
    metalAngleLeadingDeg: (form.angle + form.turning / 2) * DEG,
    metalAngleTrailingDeg: (form.angle - form.turning / 2) * DEG,
    camberMax: form.arcRadius * (1 - Math.cos(form.turning / 2)),
    camberMaxFromChord: (dx * top[1] - dy * top[0]) / chordCamber,
    leadingEdge,
    trailingEdge,
  };
}
