import { symmetricEigen } from '../math/symmetric-eigen.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { NominalSurface } from '../model/surface.ts';
import type { Correction, FitLevel } from './fit-step.ts';
import { normalMatrix, withoutOffset } from './normal-equations.ts';
import { type Robust, robustWeight } from './robust-kernel.ts';
import { cellOf, surfaceCells } from './surface-cells.ts';

/** How far the part can slip in one unit motion [vx, vy, vz, wx·L, wy·L, wz·L] about the pivot. */
export interface Play {
  motion: number[];
  /** 1 sigma (mm). */
  play: number;
  /** Larger than 5 µm. */
  weak: boolean;
}

const WEAK_PLAY = 0.005;
/** A motion held less than this share of the best-held one is not held at all. */
const HELD_LEAST = 1e-12;

export interface Plays {
  plays: Play[];
  /** Row-major 6 × 6 of the correction [v (mm), w (rad)] about the pivot; null where a motion is not held at all. */
  covariance: Float64Array | null;
}

/** Patches that may deviate together. */
const [AROUND, UP] = [24, 12];
const PATCHES_LEAST = 20;

/**
 * Returns the six plays, weakest first, from the eigenvectors of the normal matrix. Their sizes come from the spread of
 * the patches' pulls on each motion (cluster-robust covariance H⁻¹ Σ g gᵀ H⁻¹, Liang & Zeger 1986): for random noise
 * that is s/√λ, and where form deviations hang together over a patch it is as much larger as it should be.
 * @param level the last level, its sums those of the reached pose
 * @param free 6 flags, 1 = not locked
 */
export function findPlays(
  level: FitLevel,
  surface: NominalSurface,
  correction: Correction,
  pivot: Vec3,
  robust: Robust,
  offset: { value: number; free: boolean },
  free: ArrayLike<number>,
): Plays {
  const h = normalMatrix(offset.free ? withoutOffset(level.sums) : level.sums);
  const kept = [0, 1, 2, 3, 4, 5].filter((i) => free[i]);
  const n = kept.length;
  const reduced = Float64Array.from({ length: n * n }, (_, k) => h[6 * kept[Math.floor(k / n)] + kept[k % n]]);
  const { values, vectors } = symmetricEigen(reduced, n);
  const meat = pullSpread(level, surface, correction, pivot, robust, offset);
  const plays: Play[] = [];
  const inverse = new Float64Array(36);
  let held = true;
  for (let m = 0; m < n; m++) {
    const motion = [0, 0, 0, 0, 0, 0];
    kept.forEach((i, k) => {
      motion[i] = vectors[m * n + k];
    });
    const lead = motion.reduce((a, b) => (Math.abs(b) > Math.abs(a) + 1e-9 ? b : a), 0);
    if (lead < 0) for (let i = 0; i < 6; i++) motion[i] = -motion[i] + 0;
    const holds = values[m] > HELD_LEAST * values[n - 1];
    held &&= holds;
    let pull = 0;
    for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) pull += motion[i] * meat[6 * i + j] * motion[j];
    const play = holds ? Math.sqrt(Math.max(0, pull)) / values[m] : level.length;
    plays.push({ motion, play, weak: play > WEAK_PLAY });
    if (holds)
      for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) inverse[6 * i + j] += (motion[i] * motion[j]) / values[m];
  }
  plays.sort((a, b) => b.play - a.play);
  for (let i = 0; i < 6; i++) {
    if (free[i]) continue;
    plays.push({ motion: [0, 1, 2, 3, 4, 5].map((k) => (k === i ? 1 : 0)), play: 0, weak: false });
  }
  return { plays, covariance: held ? sandwich(inverse, meat, level.length) : null };
}

function sandwich(inverse: Float64Array, meat: Float64Array, length: number): Float64Array {
  const out = new Float64Array(36);
  const unit = (i: number) => (i < 3 ? 1 : 1 / length);
  for (let i = 0; i < 6; i++)
    for (let j = 0; j < 6; j++) {
      let sum = 0;
      for (let a = 0; a < 6; a++)
        for (let b = 0; b < 6; b++) sum += inverse[6 * i + a] * meat[6 * a + b] * inverse[6 * b + j];
      out[6 * i + j] = sum * unit(i) * unit(j);
    }
  return out;
}

/** Σ g gᵀ over the patches of the nominal, g the weighted residuals' pull on the six motions in a patch. */
function pullSpread(
  level: FitLevel,
  surface: NominalSurface,
  correction: Correction,
  pivot: Vec3,
  robust: Robust,
  offset: { value: number; free: boolean },
): Float64Array {
  const { feet, used, moved, weights, scale, length, sums } = level;
  const cells = surfaceCells(surface, AROUND, UP);
  const mean = Float64Array.from({ length: 6 }, (_, i) => (offset.free ? sums[28 + i] / sums[35] : 0));
  const pulls = new Float64Array(6 * AROUND * UP);
  const alone = new Float64Array(36);
  const hit = new Uint8Array(AROUND * UP);
  const row = new Float64Array(6);
  let count = 0;
  for (let i = 0; i < used.length; i++) {
    if (!used[i]) continue;
    const residual = feet.deviation[i] - offset.value;
    const weight = weights[i] * robustWeight(robust, residual, scale);
    if (weight === 0) continue;
    count++;
    const k = 3 * i;
    const n = [feet.normal[k], feet.normal[k + 1], feet.normal[k + 2]];
    const a = [0, 1, 2].map((c) => moved[k + c] - pivot[c] - correction[c]);
    row.set(n);
    for (let c = 0; c < 3; c++)
      row[3 + c] = (a[(c + 1) % 3] * n[(c + 2) % 3] - a[(c + 2) % 3] * n[(c + 1) % 3]) / length;
    const patch = cellOf(cells, feet.u[i], feet.height[i]);
    hit[patch] = 1;
    for (let c = 0; c < 6; c++) pulls[6 * patch + c] += weight * residual * (row[c] - mean[c]);
    for (let c = 0; c < 6; c++)
      for (let e = 0; e < 6; e++)
        alone[6 * c + e] += (weight * residual) ** 2 * (row[c] - mean[c]) * (row[e] - mean[e]);
  }
  const patches = hit.reduce((sum, h) => sum + h, 0);
  if (patches < PATCHES_LEAST) return alone.map((value) => (value * count) / Math.max(1, count - 6));
  const spread = new Float64Array(36);
  for (let p = 0; p < hit.length; p++)
    for (let c = 0; c < 6; c++) for (let e = 0; e < 6; e++) spread[6 * c + e] += pulls[6 * p + c] * pulls[6 * p + e];
  return spread.map((value) => (value * patches) / (patches - 6));
}
