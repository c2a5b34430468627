/** Accuracy lane: many seeds, printed figures. `npm run accuracy [motions]`. */
import { PLACEMENT_LIMITS, placementFigures } from './placement.ts';

const motions = Number(process.argv[2] ?? 200);
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
