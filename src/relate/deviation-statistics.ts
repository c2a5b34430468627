import type { Deviation } from '../model/results.ts';
import type { SurfaceMap } from './surface-map.ts';

export type DeviationNumbers = Pick<Deviation, 'min' | 'max' | 'mean' | 'rms' | 'percentiles'>;

/**
 * Returns extremes, area-weighted mean, rms and percentiles of the noise-averaged map (mm, positive outside nominal).
 * Zeros when no cell is measured.
 */
export function deviationStatistics(map: SurfaceMap): DeviationNumbers {
  const { deviation, cells } = map;
  const measured: number[] = [];
  let area = 0;
  let sum = 0;
  let squares = 0;
  for (let k = 0; k < deviation.length; k++) {
    if (!Number.isFinite(deviation[k])) continue;
    measured.push(k);
    area += cells.area[k];
    sum += cells.area[k] * deviation[k];
    squares += cells.area[k] * deviation[k] ** 2;
  }
  measured.sort((a, b) => deviation[a] - deviation[b] || a - b);
  const percentile = (share: number): number => {
    let passed = 0;
    for (const k of measured) {
      passed += cells.area[k];
      if (passed >= share * area) return deviation[k];
    }
    return 0;
  };
  const last = measured.length - 1;
  return {
    min: last < 0 ? 0 : deviation[measured[0]],
    max: last < 0 ? 0 : deviation[measured[last]],
    mean: area > 0 ? sum / area : 0,
    rms: area > 0 ? Math.sqrt(squares / area) : 0,
    percentiles: {
      p1: percentile(0.01),
      p5: percentile(0.05),
      p50: percentile(0.5),
      p95: percentile(0.95),
      p99: percentile(0.99),
    },
  };
}
