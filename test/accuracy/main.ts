/** Accuracy lane: many seeds, printed figures. `npm run accuracy [motions]`. */
import { placementAccuracy } from './placement.ts';

const motions = Number(process.argv[2] ?? 200);
const kept = await placementAccuracy(motions);
process.exitCode = kept ? 0 : 1;
