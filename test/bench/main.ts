/** Benchmarks: ratios in one process, never absolute limits. `npm run bench [rounds]`. */
import { benchDistance } from './distance.ts';
import { benchFeet } from './feet.ts';
import { benchJobs } from './jobs.ts';
import { machine } from './rounds.ts';

const rounds = Math.max(3, Number(process.argv[2] ?? 5));
console.log(machine());
const promised = await benchDistance(rounds);
await benchFeet(rounds);
await benchJobs(rounds);
let kept = true;
for (const { text, ratio, least } of promised) {
  const met = ratio >= least;
  kept &&= met;
  console.log(`${met ? 'met    ' : 'not met'}  ${text}: ${ratio.toFixed(2)} (promised ${least})`);
}
process.exitCode = kept ? 0 : 1;
