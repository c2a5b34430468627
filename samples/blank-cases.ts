import { type BladeLaw, deform, formAt, nominalBlade } from './blade.ts';
import { edgeShare, type FieldAt, onEdge, plateau, sideShare, type ThinSpot, thinnedField } from './blank-field.ts';
import type { ForgedBlank } from './blank-surface.ts';
import { ROOT_BLOCK } from './root-block.ts';
import { arcLength, LEADING, PRESSURE, SUCTION } from './section-form.ts';

/** The finished blade of the sample set with its fillet: what a forging is made around. */
function filletedBlade(): BladeLaw {
  return nominalBlade({ fillet: { from: ROOT_BLOCK.platformTop, radius: ROOT_BLOCK.fillet } });
}

const spot = (piece: ThinSpot['piece'], t: number, height: number): ThinSpot => {
  return { piece, t, height, widthT: 0.2, widthHeight: 14 };
};

/** A blank whose placement with the most even stock is its own frame, with the least stock there and where it is. */
export interface BalancedBlank extends ForgedBlank {
  least: number;
  spots: readonly ThinSpot[];
}

/**
 * A blank that cleans up when it is moved. Six thin spots hold it: their weighted normals and torques cancel, so that no
 * motion across the span adds to all of them. The excess is uneven, a wide swell on the pressure side, and draws a best
 * fit away.
 */
export function shiftBlank(): BalancedBlank {
  const spots = [
    spot(PRESSURE, 0.2, 20),
    spot(PRESSURE, 0.8, 16),
    spot(PRESSURE, 0.6, 100),
    spot(SUCTION, 0.8, 40),
    spot(SUCTION, 0.2, 24),
    spot(SUCTION, 0.8, 104),
  ];
  const swell: ThinSpot = { piece: PRESSURE, t: 0.5, height: 48, widthT: 0.5, widthHeight: 40 };
  const excess: FieldAt = (piece, t, height) =>
    0.22 + 0.04 * sideShare(piece, t) + 0.27 * edgeShare(piece, t) + 0.8 * plateau(swell, piece, t, height);
  return { blade: filletedBlade(), least: 0.3, spots, field: thinnedField(0.3, excess, spots) };
}

/**
 * A blank that no placement saves: pinched at three places, thin on both sides of each, and what one side is given the
 * other lacks.
 */
export function lostBlank(): BalancedBlank {
  const pinched = [
    [0.7, 16],
    [0.2, 56],
    [0.8, 96],
  ];
  const spots = pinched.flatMap(([t, height]) => [spot(SUCTION, t, height), spot(PRESSURE, t, height)]);
  const excess: FieldAt = (piece, t, height) =>
    0.39 - (0.05 * height) / 120 + 0.05 * sideShare(piece, t) - 0.02 * edgeShare(piece, t);
  return { blade: filletedBlade(), least: 0.1, spots, field: thinnedField(0.1, excess, spots) };
}

/** Stock of a near-net forging: thin wavy flanks, and metal at the edges that fades into the flanks. */
export interface NearNet {
  /** Mean over the flanks, and height of the waves round it (mm). */
  flank: number;
  waves: number;
  /** Phase of the waves (rad). */
  phase: number;
  /** Over the leading and the trailing nose at the root, and change to the tip (mm). */
  leading: number;
  trailing: number;
  taper: number;
  /** Length along the line of centres, from the flank's joint to the edge, over which the metal fades (mm). */
  fade: number;
}

/** 0 to 1 with no slope and no curvature at its ends. */
function smoothStep(share: number): number {
  const q = Math.min(1, Math.max(0, share));
  return q * q * q * (10 - 15 * q + 6 * q * q);
}

/** The field of a near-net forging over its own blade. */
export function nearNetField(blade: BladeLaw, net: NearNet): FieldAt {
  // Share of the arc over which the metal fades, in proportion between root and tip.
  const [root, tip] = [0, blade.span].map((height) => net.fade / arcLength(formAt(blade, height).form));
  return (piece, t, height) => {
    const up = height / blade.span;
    const round = onEdge(piece) ? (piece === LEADING ? 0 : 1) : t;
    const wave = Math.cos(2 * Math.PI * (1.5 * up - round) + net.phase) * (1 + 0.5 * sideShare(piece, t));
    const flank = net.flank + (net.waves * wave) / 1.5;
    const front = onEdge(piece) ? piece === LEADING : t < 0.5;
    const into = onEdge(piece) ? 0 : (front ? t : 1 - t) / (root + (tip - root) * up);
    const share = 1 - smoothStep(into);
    return flank + share * ((front ? net.leading : net.trailing) + net.taper * up - flank);
  };
}

/**
 * How the near-net sample was forged against the finished blade: 0.1° of twist and 0.05 mm of bow, each about its middle,
 * and a shift (mm); and its stock over that.
 */
export const EDGES_FORGING = { twistDeg: [-0.05, 0.1], bow: [0, 0.05] as [number, number], shift: [0, -0.022] };
export const EDGES_NET: NearNet = {
  flank: 0,
  waves: 0.005,
  phase: 0.4,
  leading: 0.8,
  trailing: 0.6,
  taper: -0.2,
  fade: 1.6,
};

/** A forging near net shape: flanks inside the profile band, edges with 0.4 to 0.8 mm to be cut. */
export function edgesBlank(): ForgedBlank {
  const bent = deform(filletedBlade(), EDGES_FORGING);
  const [x, y] = [bent.x, bent.y].map(([first, ...rest], axis) => [first + EDGES_FORGING.shift[axis], ...rest]);
  const blade = { ...bent, x, y };
  return { blade, field: nearNetField(blade, EDGES_NET) };
}

/** As `edgesBlank`, but its leading edge lacks metal between two heights (mm): no edge can be made there. */
export function hopelessBlank(from = 55, to = 85, lack = 0.15): ForgedBlank {
  const { blade, field } = edgesBlank();
  const [middle, half] = [(from + to) / 2, (to - from) / 2];
  return {
    blade,
    field: (piece, t, height) => {
      const at = field(piece, t, height);
      if (piece !== LEADING && (onEdge(piece) || t > 0.5)) return at;
      const depth = smoothStep(2 * (1 - Math.abs(height - middle) / half));
      const into = piece === LEADING ? 0 : t * arcLength(formAt(blade, height).form);
      return at - depth * (1 - smoothStep(into / EDGES_NET.fade)) * (at + lack);
    },
  };
}
