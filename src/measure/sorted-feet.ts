import type { FittedOutline } from '../model/outline.ts';

/** The trusted points of a fit in rising order of their feet. */
interface SortedFeet {
  /** Indices of the points. */
  order: Uint32Array;
  /** Parameters of their feet, rising within one period. */
  t: Float64Array;
}

const cache = new WeakMap<FittedOutline, SortedFeet>();

/** Returns the trusted points of a fit sorted by foot; made once and kept while the fit lives. */
export function sortedFeet(fitted: FittedOutline): SortedFeet {
  let feet = cache.get(fitted);
  if (!feet) {
    const order = risingOrder(fitted.parameters, fitted.weights);
    feet = { order, t: Float64Array.from(order, (i) => fitted.parameters[i]) };
    cache.set(fitted, feet);
  }
  return feet;
}

/**
 * Returns the indices of parameters in rising order. They are nearly in order already: only those out of order are
 * sorted and merged in.
 * @param weights indices without weight are left out; absent: none
 */
export function risingOrder(parameters: Float64Array, weights?: Float64Array): Uint32Array {
  const rising: number[] = [];
  const strays: number[] = [];
  for (let i = 0; i < parameters.length; i++) {
    if (weights && !(weights[i] > 0)) continue;
    if (rising.length > 0 && parameters[i] < parameters[rising[rising.length - 1]]) {
      strays.push(i);
      strays.push(rising.pop() as number);
    } else rising.push(i);
  }
  strays.sort((a, b) => parameters[a] - parameters[b] || a - b);
  const order = new Uint32Array(rising.length + strays.length);
  let r = 0;
  let s = 0;
  for (let k = 0; k < order.length; k++) {
    const stray = r === rising.length || (s < strays.length && parameters[strays[s]] < parameters[rising[r]]);
    order[k] = stray ? strays[s++] : rising[r++];
  }
  return order;
}
