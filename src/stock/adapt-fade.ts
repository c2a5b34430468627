import { contourAt, contourPoint } from '../measure/contour.ts';
import { edgeShares, type KeptFlanks, keptOffset, moveVector } from './adapt-base.ts';
import type { BuiltSection } from './adapt-section.ts';
import type { AdaptSettings } from './adapt-settings.ts';
import { fadeMost } from './blend-fade.ts';

const place = contourPoint();
const nominal = contourPoint();

/** What the fades of a section do: most slope at the leading and trailing edge, and the hollow they make (1/mm). */
export interface FadeNumbers {
  slopes: [number, number];
  concave: number;
}

/**
 * Returns the most slope of the fades, from the largest mismatch between moved edge and kept flank where they overlap, and
 * by how much the curvature falls below the nominal's there and below 0 where the nominal, or a new edge, is convex.
 */
export function fadeNumbers(section: BuiltSection, kept: KeptFlanks, settings: AdaptSettings): FadeNumbers {
  const { base, moves } = section;
  const { frame } = section.plan;
  const by = { leading: moveVector(frame, moves.leading), trailing: moveVector(frame, moves.trailing) };
  const mismatch = { leading: 0, trailing: 0 };
  let concave = 0;
  const { u, parameter, outline } = frame.nominal;
  for (let i = 0; i < u.length; i++) {
    contourAt(outline, parameter[i], nominal);
    const shares = edgeShares(frame, settings, nominal.x, nominal.y);
    for (const end of ['leading', 'trailing'] as const) {
      if (!(shares[end] > 0 && shares[end] < 1)) continue;
      const [dx, dy] = by[end];
      const off = keptOffset(kept, u[i], frame.height) - (dx * nominal.ty - dy * nominal.tx);
      mismatch[end] = Math.max(mismatch[end], Math.abs(off));
      contourAt(base.outline, base.parameter[i], place);
      concave = Math.max(concave, Math.min(0, nominal.curvature) - place.curvature);
    }
  }
  for (const { curve } of section.edges)
    if (curve) concave = curve.curvature.reduce((deepest, value) => Math.max(deepest, -value), concave);
  const slope = (end: 'leading' | 'trailing') =>
    mismatch[end] > 0 ? fadeMost('quintic', mismatch[end], Math.max(settings[end].blend, 1e-9)).slope : 0;
  return { slopes: [slope('leading'), slope('trailing')], concave };
}
