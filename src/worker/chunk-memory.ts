/** The typed arrays that kernels use. */
type NumberArray = Float64Array | Float32Array | Int32Array | Uint32Array | Uint16Array | Uint8Array;
type ArrayMaker = new (buffer: ArrayBufferLike, offset?: number, length?: number) => NumberArray;

/** True when memory can be shared between threads here (in a page: only when it is cross-origin isolated). */
export function canShareMemory(): boolean {
  return typeof SharedArrayBuffer !== 'undefined';
}

function isArray(value: unknown): value is NumberArray {
  return ArrayBuffer.isView(value) && !(value instanceof DataView);
}

function maker(array: NumberArray): ArrayMaker {
  return array.constructor as ArrayMaker;
}

/** Returns the same record with every typed array on shared memory; arrays over one buffer stay over one buffer. */
export function onSharedMemory<T>(value: T, moved = new Map<ArrayBufferLike, SharedArrayBuffer>()): T {
  if (isArray(value)) {
    if (value.buffer instanceof SharedArrayBuffer) return value;
    let buffer = moved.get(value.buffer);
    if (buffer === undefined) {
      buffer = new SharedArrayBuffer(value.buffer.byteLength);
      new Uint8Array(buffer).set(new Uint8Array(value.buffer));
      moved.set(value.buffer, buffer);
    }
    return new (maker(value))(buffer, value.byteOffset, value.length) as T;
  }
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
  return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, onSharedMemory(part, moved)])) as T;
}

/** Returns room like `out` on shared memory; arrays already there are used as they are. */
export function sharedRoomFor<T extends object>(out: T): T {
  return mapArrays(out, (array) =>
    array.buffer instanceof SharedArrayBuffer ? array : new (maker(array))(new SharedArrayBuffer(array.byteLength)),
  );
}

/** Returns room for `part` of `whole` points, with the same numbers a point as in `out`. */
export function roomForPart<T extends object>(out: T, part: number, whole: number): T {
  return mapArrays(out, (array) => new (maker(array))(new ArrayBuffer((array.byteLength / Math.max(1, whole)) * part)));
}

/** Copies arrays of the same layout; arrays that are the same memory are left alone. */
export function copyBack(from: object, to: object): void {
  const target = to as Record<string, NumberArray>;
  for (const [key, array] of Object.entries(from)) {
    if (isArray(array) && array.buffer !== target[key].buffer) target[key].set(array);
  }
}

/** Writes results of places `first`, `first + 1`, … of the order to the points' own places. */
export function scatterBack(part: object, to: object, order: Uint32Array | null, first: number, whole: number): void {
  const target = to as Record<string, NumberArray>;
  for (const [key, array] of Object.entries(part)) {
    if (!isArray(array)) continue;
    const all = target[key];
    const width = all.length / whole;
    for (let k = 0; k * width < array.length; k++) {
      const i = order === null ? first + k : order[first + k];
      for (let c = 0; c < width; c++) all[width * i + c] = array[width * k + c];
    }
  }
}

/** Buffers of the arrays of a record, each once, to hand over. */
export function buffersOf(out: object): ArrayBuffer[] {
  const buffers = Object.values(out).flatMap((array) =>
    isArray(array) && array.buffer instanceof ArrayBuffer ? [array.buffer] : [],
  );
  return [...new Set(buffers)];
}

function mapArrays<T extends object>(record: T, map: (array: NumberArray) => NumberArray): T {
  return Object.fromEntries(
    Object.entries(record).map(([key, value]) => [key, isArray(value) ? map(value) : value]),
  ) as T;
}
