import { seededRandom } from '../src/math/random.ts';
import { type Deformation, deform, nominalBlade } from './blade.ts';
import { nearNetField } from './blank-cases.ts';
import { edgeShare, type FieldAt, onEdge, sideShare } from './blank-field.ts';
import { makeBlankScan } from './blank-scan.ts';
import { type ForgedBlank, stockOnBlade } from './blank-surface.ts';
import type { BladePlace } from './deviation.ts';
import { PRESSURE } from './section-form.ts';

export type WarpKind = 'thick' | 'near-net';

/** A forging with seeded errors, and what is known of it. */
export interface WarpedBlank extends ForgedBlank {
  /** What the seed did to the blade under the stock. */
  change: Deformation;
  /** Points x0, y0, z0, … on its surface in its own frame (mm). */
  points: (count: number, seed?: number, noise?: number) => Float64Array;
  /** Exact stock at a place of the finished blade, along its normal (mm). */
  truth: (place: BladePlace) => number;
}

/**
 * A seeded forging of the nominal blade. `thick`: 0.35 to 0.7 mm of stock that differs by side and height, twist up to
 * 0.6°, bow up to 0.25 mm, thickness wrong by up to 0.15 mm. `near-net`: flanks within about 0.05 mm, 0.4 to 0.8 mm at the
 * edges, twist up to 0.1°, bow up to 0.02 mm.
 */
export function warpedBlank(seed: number, kind: WarpKind = 'thick'): WarpedBlank {
  const uniform = seededRandom(7919 * seed + (kind === 'thick' ? 1 : 2));
  const within = (size: number) => size * (2 * uniform() - 1);
  const between = (low: number, high: number) => low + (high - low) * uniform();
  const finished = nominalBlade();
  const net = kind === 'near-net';
  const [twist, bow, thickness] = net ? [0.05, 0.02, 0.01] : [0.3, 0.25, 0.075];
  const change: Deformation = {
    twistDeg: [0, within(twist), within(twist)],
    bow: [within(bow / 2), within(bow)],
    thickness: [within(thickness), within(thickness)],
  };
  const blade = deform(finished, change);
  const field = net
    ? nearNetField(blade, {
        flank: within(0.008),
        waves: between(0.002, 0.01),
        phase: between(0, 2 * Math.PI),
        leading: between(0.6, 0.8),
        trailing: between(0.55, 0.75),
        taper: between(-0.15, 0),
        fade: between(1.2, 1.8),
      })
    : unevenField(blade.span, within, between);
  const blank = { blade, field };
  return {
    ...blank,
    change,
    points: (count, pointSeed = seed, noise = 0) =>
      makeBlankScan(blank, { points: count, seed: pointSeed, noise, from: -1, to: 121 }).cloud.positions,
    truth: (place) => stockOnBlade(blank, finished, place),
  };
}

/** Stock of a forging with metal all over: by side, along the span, more at the edges, and two waves. */
function unevenField(
  span: number,
  within: (size: number) => number,
  between: (low: number, high: number) => number,
): FieldAt {
  const [base, taper, side, edges] = [between(0.45, 0.6), within(0.08), within(0.06), between(0, 0.25)];
  const waves = [0, 1].map(() => ({
    size: between(0.01, 0.04),
    up: between(0.5, 2),
    phase: between(0, 2 * Math.PI),
  }));
  return (piece, t, height) => {
    const up = height / span;
    let stock = base + taper * (up - 0.5) + side * sideShare(piece, t) + edges * edgeShare(piece, t);
    // Waves fade at both edges, where the sides meet.
    const share = onEdge(piece) ? 0 : Math.sin(Math.PI * t) ** 2;
    const { size, up: turns, phase } = waves[piece === PRESSURE ? 0 : 1];
    stock += size * share * Math.cos(2 * Math.PI * (turns * up + t) + phase);
    return stock;
  };
}
