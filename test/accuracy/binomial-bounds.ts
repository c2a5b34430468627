/** Share of a normal variable within two standard deviations of its mean. */
export const WITHIN_TWO = 0.9544997361036416;

/**
 * Returns the counts [least, most] between which a binomial count lies with the given probability, each tail having at
 * most half of the rest.
 * @param n trials
 * @param share chance of one trial
 */
export function binomialBounds(n: number, share: number, probability: number): [number, number] {
  const tail = 0.5 * (1 - probability);
  const chance = new Float64Array(n + 1);
  let log = n * Math.log1p(-share);
  for (let k = 0; k <= n; k++) {
    chance[k] = Math.exp(log);
    log += Math.log((n - k) / (k + 1)) + Math.log(share / (1 - share));
  }
  let least = 0;
  for (let below = chance[0]; below <= tail && least < n; below += chance[least]) least++;
  let most = n;
  for (let above = chance[n]; above <= tail && most > 0; above += chance[most]) most--;
  return [least, most];
}
