/** Seconds by step of a job. */
export interface Stopwatch {
  /** Ends a step. */
  lap: (step: string) => void;
  /** The steps so far, and `total`. */
  seconds: () => Record<string, number>;
}

/** Returns a clock that starts now. */
export function stopwatch(): Stopwatch {
  const start = performance.now();
  let last = start;
  const laps: Record<string, number> = {};
  return {
    lap: (step) => {
      const now = performance.now();
      laps[step] = (laps[step] ?? 0) + (now - last) / 1000;
      last = now;
    },
    seconds: () => ({ ...laps, total: (performance.now() - start) / 1000 }),
  };
}
