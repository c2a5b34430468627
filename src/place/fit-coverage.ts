import type { NominalSurface } from '../model/surface.ts';
import type { FitLevel } from './fit-step.ts';
import { cellOf, surfaceCells } from './surface-cells.ts';

/** Where on the nominal the points of a fit lie. */
export interface FitCoverage {
  /** Share of the nominal's cells with points, 0 … 1. */
  share: number;
  suctionShare: number;
  pressureShare: number;
  /** Heights between which there are points (mm). */
  from: number;
  to: number;
}

const POINTS_PER_CELL = 20;
const [AROUND_MOST, UP_MOST] = [48, 32];

/** Returns what the used points of a level cover; cells are as coarse as the number of points asks for. */
export function fitCoverage(level: FitLevel, surface: NominalSurface): FitCoverage {
  const { feet, used } = level;
  const total = used.reduce((sum, u) => sum + u, 0);
  const fine = Math.sqrt(Math.max(1, total / POINTS_PER_CELL));
  const around = 2 * Math.ceil(Math.min(AROUND_MOST, Math.max(4, fine)) / 2);
  const cells = surfaceCells(surface, around, Math.ceil(Math.min(UP_MOST, Math.max(3, fine))));
  const hit = new Uint8Array(around * cells.up);
  let [from, to] = [Infinity, -Infinity];
  for (let i = 0; i < used.length; i++) {
    if (!used[i]) continue;
    hit[cellOf(cells, feet.u[i], feet.height[i])] = 1;
    from = Math.min(from, feet.height[i]);
    to = Math.max(to, feet.height[i]);
  }
  const counts = { suction: [0, 0], pressure: [0, 0] };
  for (let k = 0; k < hit.length; k++) {
    const u = cells.uLow + ((Math.floor(k / cells.up) + 0.5) / around) * (cells.uHigh - cells.uLow);
    const side = u < 0 ? counts.suction : counts.pressure;
    side[0] += hit[k];
    side[1]++;
  }
  return {
    share: (counts.suction[0] + counts.pressure[0]) / hit.length,
    suctionShare: counts.suction[0] / counts.suction[1],
    pressureShare: counts.pressure[0] / counts.pressure[1],
    from: total > 0 ? from : 0,
    to: total > 0 ? to : 0,
  };
}
