/** Share (0 … 1) as per cent with one decimal, cut, not rounded: what is not quite all never reads 100.0 %. */
export function shareText(share: number): string {
  return `${(Math.floor(1000 * share + 1e-9) / 10).toFixed(1)} %`;
}
