import { loadError, MAX_COUNT } from './format.ts';

/** Doubles in a row that grow as needed. */
export interface DoubleStore {
  data: Float64Array;
  length: number;
}

/** Unsigned integers in a row that grow as needed. */
export interface IndexStore {
  data: Uint32Array;
  length: number;
}

export function doubleStore(capacity: number): DoubleStore {
  return { data: new Float64Array(Math.max(capacity, 96)), length: 0 };
}

export function indexStore(capacity: number): IndexStore {
  return { data: new Uint32Array(Math.max(capacity, 96)), length: 0 };
}

/** Makes room for `more` values; call before writing to `data`. @throws `load/too-large` */
export function reserve(store: DoubleStore | IndexStore, more: number, input: { name: string }): void {
  const need = store.length + more;
  if (need <= store.data.length) return;
  if (need > 3 * MAX_COUNT) throw tooLarge(input, need / 3);
  const capacity = Math.max(need, Math.ceil(store.data.length * 1.6));
  if (store.data instanceof Float64Array) {
    const wider = new Float64Array(capacity);
    wider.set(store.data.subarray(0, store.length));
    store.data = wider;
  } else {
    const wider = new Uint32Array(capacity);
    wider.set(store.data.subarray(0, store.length));
    store.data = wider;
  }
}

/** Adds three doubles. @throws `load/too-large` */
export function push3(store: DoubleStore, x: number, y: number, z: number, input: { name: string }): void {
  if (store.length + 3 > store.data.length) reserve(store, 3, input);
  const { data, length } = store;
  data[length] = x;
  data[length + 1] = y;
  data[length + 2] = z;
  store.length = length + 3;
}

/** Adds three indices. @throws `load/too-large` */
export function pushTriangle(store: IndexStore, a: number, b: number, c: number, input: { name: string }): void {
  if (store.length + 3 > store.data.length) reserve(store, 3, input);
  const { data, length } = store;
  data[length] = a;
  data[length + 1] = b;
  data[length + 2] = c;
  store.length = length + 3;
}

/** Returns the values in an array of exactly their length; copies only when there is room left over. */
export function exactDoubles(store: DoubleStore): Float64Array {
  return store.length === store.data.length ? store.data : store.data.slice(0, store.length);
}

/** Returns the indices in an array of exactly their length; copies only when there is room left over. */
export function exactIndices(store: IndexStore): Uint32Array {
  return store.length === store.data.length ? store.data : store.data.slice(0, store.length);
}

/** Returns the error for a file with more points or triangles than can be held. */
export function tooLarge(input: { name: string }, count: number): Error {
  const message = `The file holds ${Math.round(count)} points or triangles; at most ${MAX_COUNT} are taken in.`;
  return loadError(input, 'load/too-large', message, null, 'Thin the scan or cut it to the blade.');
}
