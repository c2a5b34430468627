import { measured, unmeasured, type Value } from '../model/value.ts';
import { lacking, type SectionContext } from './section-context.ts';

/** Direction of the line of centres at both end-circle centres (MA-END, from +X) and their difference. */
export interface CamberAngles {
  camberAngleDeg: Value;
  metalAngleLeadingDeg: Value;
  metalAngleTrailingDeg: Value;
}

const DEG = 180 / Math.PI;
const DEFINITION = 'MA-END';

/** Returns the camber angle, leading minus trailing direction, and both metal angles. */
export function camberAngles(context: SectionContext): CamberAngles {
  const heading = context.line?.heading;
  if (!context.line || !heading) {
    const none = unmeasured('not-converged', 'No line of centres was found.', 'deg', DEFINITION);
    return { camberAngleDeg: none, metalAngleLeadingDeg: none, metalAngleTrailingDeg: none };
  }
  const { circles } = context.line;
  const last = circles[circles.length - 1];
  const lead: [number, number, string][] = [
    [circles[0].first, circles[0].first, 'the leading edge'],
    [circles[0].second, circles[0].second, 'the leading edge'],
  ];
  const trail: [number, number, string][] = [
    [last.first, last.first, 'the trailing edge'],
    [last.second, last.second, 'the trailing edge'],
  ];
  const angle = (
    value: number,
    u: number | null,
    stretches: [number, number, string][],
    parameters: Record<string, string>,
  ): Value =>
    lacking(context, stretches, 'deg', DEFINITION) ??
    measured(value * DEG, u === null ? null : u * DEG, 'deg', DEFINITION, {
      parameters,
      evidence: { degree: heading.degree, rms: heading.rms },
    });
  const wrap = (a: number) => Math.atan2(Math.sin(a), Math.cos(a));
  return {
    camberAngleDeg: angle(heading.leading - heading.trailing, heading.uDifference, [...lead, ...trail], {
      sign: 'leading minus trailing direction',
    }),
    metalAngleLeadingDeg: angle(wrap(heading.leading), heading.uLeading, lead, { from: '+X' }),
    metalAngleTrailingDeg: angle(wrap(heading.trailing), heading.uTrailing, trail, { from: '+X' }),
  };
}
