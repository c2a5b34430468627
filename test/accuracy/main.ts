/** Accuracy lane: many seeds, printed figures. `npm run accuracy [motions]`. */
import { deformedScan, inspectDeformed, mapError, middle, POSE, sectionErrors } from './deformed.ts';
import { PLACEMENT_LIMITS, placementFigures } from './placement.ts';

const motions = Number(process.argv[2] ?? 200);
const scan = deformedScan(21);
const known = await inspectDeformed(scan, POSE);
const found = await inspectDeformed(scan, null);
const errors = sectionErrors(known);
const um = (list: number[]): string => (1000 * middle(list)).toFixed(2);
console.log(
  `deformed part, 1,000,000 points, 5 um noise: map rms error ${(1000 * mapError(known).rms).toFixed(2)} um in the true pose, ` +
    `${(1000 * mapError(found).rms).toFixed(2)} um at the best fit; medians over the inner sections: chord ${um(errors.chord)} um, ` +
    `largest thickness ${um(errors.thickness)} um, leading edge radius ${um(errors.leading)} um, trailing edge radius ` +
    `${um(errors.trailing)} um, twist ${middle(errors.twistDeg).toFixed(5)} deg`,
);
let kept = true;
for (const kind of ['cloud', 'mesh'] as const) {
  const found = await placementFigures(kind, motions);
  const inside =
    found.acrossUm < PLACEMENT_LIMITS.acrossUm &&
    found.alongUm < PLACEMENT_LIMITS.alongUm &&
    found.turnDeg < PLACEMENT_LIMITS.turnDeg &&
    found.mirrored === motions;
  kept &&= inside;
  console.log(
    `${kind}: ${motions} motions, worst ${found.acrossUm.toFixed(3)} um across, ${found.alongUm.toFixed(3)} um along the ` +
      `span, ${found.turnDeg.toFixed(5)} deg; ${found.mirrored} of ${motions} mirrored ones reported` +
      `${inside ? '' : ' (beyond the limits)'}`,
  );
}
process.exitCode = kept ? 0 : 1;
