import { measured, type Parameters, unmeasured, type Value } from '../model/value.ts';
import type { Extension } from './camber-point.ts';
import { type ChordId, edgeExtreme, type ReferenceChord, referenceChord } from './reference-chord.ts';
import { lacking, type SectionContext } from './section-context.ts';

/** Which axis an angle or an extent belongs to: X axial, Y tangential. */
export type Axis = 'axial' | 'tangential';

const DEG = 180 / Math.PI;

/** Returns the length of a chord and its ends. */
export function chordLength(context: SectionContext, id: ChordId, extension?: Extension): Value {
  const parameters = extension ? { extension } : {};
  return chordValue(context, id, extension, 'mm', parameters, (chord) => [chord.length, chord.uLength]);
}

/**
 * Returns the angle of a chord, leading to trailing edge: from axial, positive from +X to +Y; from tangential, its
 * complement to 90 degrees.
 */
export function staggerAngle(context: SectionContext, id: ChordId, from: Axis, extension?: Extension): Value {
  const parameters = extension ? { extension, from } : { from };
  return chordValue(context, id, extension, 'deg', parameters, (chord) => [
    angleFrom(Math.atan2(chord.dy, chord.dx), from),
    chord.uAngle === null ? null : chord.uAngle * DEG,
  ]);
}

/** Returns an angle from +X (rad) in degrees from axial, or its complement, within (−180, 180]. */
export function angleFrom(angle: number, from: Axis): number {
  const wanted = from === 'axial' ? angle : Math.PI / 2 - angle;
  return Math.atan2(Math.sin(wanted), Math.cos(wanted)) * DEG;
}

function chordValue(
  context: SectionContext,
  id: ChordId,
  extension: Extension | undefined,
  unit: 'mm' | 'deg',
  parameters: Parameters,
  pick: (chord: ReferenceChord) => [number, number | null],
): Value {
  const chord = referenceChord(context, id, extension);
  if (!('length' in chord))
    return unmeasured(chord.status, chord.reason, unit, id, { parameters, evidence: chord.evidence });
  const missing = lacking(context, chord.stretches, unit, id);
  if (missing) return { ...missing, parameters };
  const { x1, y1, x2, y2 } = chord;
  const [value, u] = pick(chord);
  return measured(value, u, unit, id, { parameters, evidence: { x1, y1, x2, y2, ...chord.evidence } });
}

/** Returns the extent along X (axial) or Y (tangential), CH-AX. */
export function axialChord(context: SectionContext, direction: Axis): Value {
  const [dx, dy] = direction === 'axial' ? [1, 0] : [0, 1];
  const high = edgeExtreme(context, dx, dy);
  const low = edgeExtreme(context, -dx, -dy);
  const parameters = { direction };
  const name = direction === 'axial' ? 'x' : 'y';
  const missing = lacking(
    context,
    [
      [high.t, high.t, `the largest ${name}`],
      [low.t, low.t, `the smallest ${name}`],
    ],
    'mm',
    'CH-AX',
  );
  if (missing) return { ...missing, parameters };
  const u = high.u === null || low.u === null ? null : Math.hypot(high.u, low.u);
  const evidence = { x1: low.x, y1: low.y, x2: high.x, y2: high.y };
  return measured(high.value + low.value, u, 'mm', 'CH-AX', { parameters, evidence });
}
