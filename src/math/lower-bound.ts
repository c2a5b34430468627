/** Returns the index of the first of rising `values` that is not below `wanted`; their count when all are. */
export function lowerBound(values: ArrayLike<number>, wanted: number): number {
  let low = 0;
  let high = values.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (values[middle] < wanted) low = middle + 1;
    else high = middle;
  }
  return low;
}
