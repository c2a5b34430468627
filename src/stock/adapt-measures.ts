import { farChord } from '../measure/chord-far.ts';
import { contourAt, contourOf, contourPoint, parameterFrom } from '../measure/contour.ts';
import { cutThickness } from '../measure/cut-thickness.ts';
import type { AdaptedEdge } from '../model/adapt-results.ts';
import type { Outline } from '../model/outline.ts';
import { measured, unmeasured, type Value } from '../model/value.ts';
import { type KeptFlanks, keptUncertainty } from './adapt-base.ts';
import { acrossOf } from './adapt-camber.ts';
import { risesAndFalls } from './adapt-curvature.ts';
import { heldSetbacks, ownRatio } from './adapt-design.ts';
import type { BuiltEdge, BuiltSection } from './adapt-section.ts';
import type { AdaptSettings } from './adapt-settings.ts';

const place = contourPoint();
const DEG = 180 / Math.PI;
/** Stretches between a junction and the nose over which the curvature is taken. */
const STRETCHES = 24;

/** Returns the longest chord of an adapted section (mm). */
export function adaptedChord(section: BuiltSection, outline: Outline): Value {
  const { leading } = section.plan.frame;
  const far = farChord(contourOf(outline), leading.line.x, leading.line.y);
  return measured(far.length, null, 'mm', 'CH-FAR');
}

/** What is measured of an edge of an adapted section; without its verdict. */
export type EdgeNumbers = Omit<AdaptedEdge, 'verdict' | 'reason'>;

/** Returns the numbers of an edge on the adapted outline. */
export function edgeNumbers(
  section: BuiltSection,
  edge: BuiltEdge,
  outline: Outline,
  kept: KeptFlanks,
  settings: AdaptSettings,
): EdgeNumbers {
  const { frame } = section.plan;
  const { end, line, curve } = edge;
  const own = settings[end];
  const contour = contourOf(outline);
  const nose = noseOf(outline, line.x, line.y, line.inX, line.inY);
  contourAt(outline, nose, place);
  const noseRadius = curve ? curve.noseRadius : 1 / place.curvature;
  const design = section.plan.design[end];
  const designAcross = design ? acrossOf(frame, design.nose.x, design.nose.y) : Number.NaN;
  const middle = section.plan.middle[end];
  const offset = acrossOf(frame, place.x, place.y) - designAcross - (middle ?? 0);
  const held = heldSetbacks(settings, own);
  const thicknessAt = settings.setbacks.map((setback) => {
    const found = cutThickness(contour, nose, line.inX, line.inY, setback)?.thickness;
    const at = held.indexOf(setback);
    const wanted = at < 0 ? null : (design?.thickness[at] ?? null);
    const value =
      found === undefined
        ? unmeasured('not-applicable', 'The section is too short for the set-back.', 'mm', 'T-ORD')
        : measured(found, null, 'mm', 'T-ORD', { parameters: { setback } });
    return { setback, nominal: wanted, ...value };
  });
  const halfAxes = curve?.ratio ? ownRatio(curve.ratio, design?.cosine ?? 1) : null;
  const ratio = curve
    ? curve.ratio === null || halfAxes === null
      ? unmeasured('not-applicable', 'The conic is no ellipse.', '', 'E-AB')
      : measured(halfAxes, null, '', 'E-AB')
    : unmeasured('not-applicable', 'The form of the nominal edge is kept.', '', 'E-AB');
  return {
    edge: end === 'leading' ? 'leading-edge' : 'trailing-edge',
    form: settings.form,
    continuity: settings.continuity,
    ratio,
    setbacks: curve
      ? { suction: curve.junctions[0].setback, pressure: curve.junctions[1].setback }
      : { suction: own.most, pressure: own.most },
    noseRadius: Number.isFinite(noseRadius)
      ? measured(noseRadius, null, 'mm', 'R-OSC')
      : unmeasured('not-applicable', 'The edge is flat at its nose.', 'mm', 'R-OSC'),
    noseOffset:
      middle === null
        ? unmeasured('not-applicable', 'The section is too short for its line of middles.', 'mm', 'NOSE-CAM')
        : measured(offset, flankU(kept, section, end), 'mm', 'NOSE-CAM'),
    thicknessAt,
    tangentBreakDeg: tangentBreak(section, edge, settings),
    curvatureMonotone: curve
      ? risesAndFalls(curve.curvature)
      : risesAndFalls(curvatures(outline, edge, nose, own.most)),
  };
}

/** Standard uncertainty of the middle between both flanks at the end of the edge zone (mm). */
function flankU(kept: KeptFlanks, { plan }: BuiltSection, end: 'leading' | 'trailing'): number {
  const { columns } = plan.frame.on.surface;
  const [low, high] = end === 'leading' ? [-3, 3] : [columns[0] + 3, columns[columns.length - 1] - 3];
  const { height } = plan.frame;
  return 0.5 * Math.hypot(keptUncertainty(kept, low, height), keptUncertainty(kept, high, height));
}

/** Parameter of the place of an outline nearest to a nose line or farthest beyond it. */
function noseOf(outline: Outline, x: number, y: number, inX: number, inY: number): number {
  const contour = contourOf(outline);
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < contour.count; i++) {
    const depth = (contour.x[i] - x) * inX + (contour.y[i] - y) * inY;
    if (depth < least) [least, best] = [depth, i];
  }
  const before = contour.t[(best + contour.count - 1) % contour.count];
  let low = before > contour.t[best] ? before - outline.period : before;
  let high = parameterFrom(outline, contour.t[best], contour.t[(best + 1) % contour.count]);
  for (let round = 0; round < 60; round++) {
    const middle = 0.5 * (low + high);
    contourAt(outline, middle, place);
    if (place.tx * inX + place.ty * inY < 0) low = middle;
    else high = middle;
  }
  return 0.5 * (low + high);
}

/**
 * Largest break of the tangent (degrees): of the new edge against the flanks at its junctions, and of the faded flank
 * against the measured one where the fade ends.
 */
function tangentBreak(
  section: BuiltSection,
  { curve, flanks, end }: BuiltEdge,
  settings: AdaptSettings,
): number | null {
  const breaks: number[] = [];
  const angle = (ax: number, ay: number, bx: number, by: number) =>
    Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by));
  if (curve) {
    const [first, second] = curve.junctions;
    breaks.push(
      angle(first.tangentX, first.tangentY, ...curve.tangentsIn),
      angle(-second.tangentX, -second.tangentY, ...curve.tangentsOut),
    );
  }
  const { most, blend } = settings[end];
  const { u, parameter } = section.base;
  for (const side of ['suction', 'pressure'] as const) {
    const t = flanks.parameterAt(side, most + blend);
    if (t === null) return null;
    const at = uAtParameter(u, parameter, section.base.outline.period, t);
    contourAt(section.base.outline, t, place);
    const [tx, ty] = [place.tx, place.ty];
    contourAt(section.plan.flanks.outline, uToParameter(u, section.plan.flanks.parameter, at), place);
    breaks.push(angle(tx, ty, place.tx, place.ty));
  }
  return DEG * Math.max(...breaks);
}

/** Position `u` at a parameter, linear between the columns. */
function uAtParameter(u: Float64Array, parameter: Float64Array, period: number, t: number): number {
  const rising = parameter[parameter.length - 1] > parameter[0];
  const low = rising ? parameter[0] : parameter[parameter.length - 1];
  const wrapped = t - period * Math.floor((t - low) / period);
  for (let i = 0; i + 1 < u.length; i++) {
    const share = (wrapped - parameter[i]) / (parameter[i + 1] - parameter[i]);
    if (share >= 0 && share <= 1) return u[i] + share * (u[i + 1] - u[i]);
  }
  return u[u.length - 1];
}

function uToParameter(u: Float64Array, parameter: Float64Array, at: number): number {
  let i = 0;
  while (i + 2 < u.length && u[i + 1] < at) i++;
  return parameter[i] + ((at - u[i]) / (u[i + 1] - u[i])) * (parameter[i + 1] - parameter[i]);
}

/** Mean curvatures of even stretches from one junction over the nose to the other (1/mm). */
function curvatures(outline: Outline, { line }: BuiltEdge, nose: number, most: number): number[] {
  const cut = cutThickness(contourOf(outline), nose, line.inX, line.inY, most);
  if (!cut) return [];
  const found: number[] = [];
  let last: [number, number, number, number] | null = null;
  for (const [from, to] of [
    [cut.before, nose],
    [nose, cut.after],
  ]) {
    for (let i = 0; i <= STRETCHES; i++) {
      const share = i / STRETCHES;
      // Stretches shorten towards the nose, where the outline turns.
      const part = from === nose ? share * share : 1 - (1 - share) ** 2;
      contourAt(outline, from + part * (to - from), place);
      const next: [number, number, number, number] = [place.x, place.y, place.tx, place.ty];
      if (last && i > 0) {
        const turn = Math.atan2(last[2] * next[3] - last[3] * next[2], last[2] * next[2] + last[3] * next[3]);
        const chord = Math.hypot(next[0] - last[0], next[1] - last[1]);
        found.push(turn / (chord * (1 + turn ** 2 / 24)));
      }
      last = next;
    }
  }
  return found;
}
