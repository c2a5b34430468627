import type { Inscribed } from './inscribed-circle.ts';
import type { Stretch } from './reference-chord.ts';

/** The two contacts of an inscribed circle as places that need points. */
export function circleStretches(circle: Inscribed, name: string): Stretch[] {
  return [
    [circle.first, circle.first, name],
    [circle.second, circle.second, name],
  ];
}
