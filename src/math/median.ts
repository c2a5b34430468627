/** Returns the median of the first `count` numbers of `values`, which are reordered (quickselect). NaN for none. */
export function medianInPlace(values: Float64Array, count = values.length): number {
  if (count === 0) return NaN;
  const middle = count >> 1;
  const upper = select(values, count, middle);
  if (count % 2 === 1) return upper;
  let lower = -Infinity;
  for (let i = 0; i < middle; i++) if (values[i] > lower) lower = values[i];
  return (lower + upper) / 2;
}

/** Returns the median of numbers that are left as they are. */
export function median(values: ArrayLike<number>): number {
  return medianInPlace(Float64Array.from(values));
}

/** Factor from the median absolute deviation to the standard deviation of normal numbers. */
export const MAD_TO_SIGMA = 1.482602218505602;

function select(values: Float64Array, count: number, rank: number): number {
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const pivot = values[(low + high) >> 1];
    let i = low;
    let j = high;
    while (i <= j) {
      while (values[i] < pivot) i++;
      while (values[j] > pivot) j--;
      if (i <= j) {
        const swap = values[i];
        values[i++] = values[j];
        values[j--] = swap;
      }
    }
    if (rank <= j) high = j;
    else if (rank >= i) low = i;
    else break;
  }
  return values[rank];
}
