/** Holds one record, changes it by plain functions and tells who listens. */
export interface Store<T> {
  readonly state: T;
  update(change: (before: T) => T): void;
  /** Returns the function that ends the listening. */
  subscribe(listener: (state: T) => void): () => void;
}

export function createStore<T>(initial: T): Store<T> {
  let state = initial;
  const listeners = new Set<(state: T) => void>();
  return {
    get state() {
      return state;
    },
    update(change) {
      const after = change(state);
      if (after === state) return;
      state = after;
      for (const listener of [...listeners]) listener(state);
    },
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
