/**
 * Returns the greatest of each value and the `reach` values after it, NaN left out; −Infinity where there is none. One
 * pass: values that a later, greater one outlives are dropped (monotone queue).
 */
export function slidingGreatest(values: Float64Array, reach: number): Float64Array {
  const count = values.length;
  const greatest = new Float64Array(count);
  const queue = new Int32Array(count);
  let first = 0;
  let end = 0;
  let next = 0;
  for (let i = 0; i < count; i++) {
    for (; next < count && next <= i + reach; next++) {
      const value = values[next];
      if (Number.isNaN(value)) continue;
      while (end > first && values[queue[end - 1]] <= value) end--;
      queue[end++] = next;
    }
    while (first < end && queue[first] < i) first++;
    greatest[i] = first < end ? values[queue[first]] : Number.NEGATIVE_INFINITY;
  }
  return greatest;
}
