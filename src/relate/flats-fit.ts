import { EDGE_MODES } from '../math/edge-modes.ts';
import { simplexSearch } from '../math/simplex-search.ts';
import { type BlockForm, type EdgeBlock, edgeBlocks, effectOn, flatForm, formOf, leftWith } from './flats-blocks.ts';
import { flatCut } from './flats-cut.ts';
import { type EdgePatch, stationNear } from './flats-edge.ts';
import type { FlatRun } from './flats-scan.ts';

/** A flat fitted to the points of an edge. */
export interface FittedFlat extends FlatRun {
  /** Width of the chord (mm) and standard uncertainty of the sagitta (mm). */
  width: number;
  uSagitta: number;
  /** Gain of the likeliest smooth change of form in its place. */
  rival: number;
  /** Points of the patch within it that it explains. */
  points: number[];
}

const DEG = Math.PI / 180;
/** Span either side of a run that tells what is there without it, and by which its ends may move (mm). */
const MARGIN = 3;
const ROUNDS = 3;
/** Steps of the ends, first and then (mm). */
const COARSE = 0.25;
const FINE = 0.05;
/** Points farther off than this many standard deviations are strays. */
const STRAY = 4.5;

/**
 * Returns the flat of largest likelihood about a run: centre and sagitta by simplex, the ends by turns (each the mean of
 * its places weighted by likelihood), the edge's smooth form fitted besides; strays from that left out, then again.
 * @param free false for points of the patch that another flat holds
 */
export function fitFlat(patch: EdgePatch, run: FlatRun, sigma: number, free: (point: number) => boolean): FittedFlat {
  const { height } = patch;
  const from = Math.max(height[0], run.from - MARGIN);
  const to = Math.min(height[height.length - 1] + 1e-9, run.to + MARGIN);
  const first = refined(patch, edgeBlocks(patch, from, to, notFar(patch, from, to, run, sigma, free)), run, sigma);
  const blocks = edgeBlocks(patch, from, to, notFar(patch, from, to, first, sigma, free));
  const flat = refined(patch, blocks, first, sigma);
  const form = flatForm(patch, flat);
  const station = stationNear(patch, 0.5 * (flat.from + flat.to));
  const cut = flatCut(station, flat.centre, flat.sagitta);
  return {
    ...flat,
    sagitta: cut?.sagitta ?? flat.sagitta,
    width: cut?.width ?? 0,
    uSagitta: sagittaNoise(patch, blocks, flat, sigma),
    rival: rivalGain(patch, blocks, flat, sigma),
    points: blocks.flatMap((block) => {
      const own = form(block);
      return own ? [...block.points].filter((_, k) => own[k] < 0) : [];
    }),
  };
}

/** Tells the points that a flat and the smooth form explain. */
function notFar(
  patch: EdgePatch,
  from: number,
  to: number,
  flat: FlatRun,
  sigma: number,
  free: (point: number) => boolean,
): (point: number) => boolean {
  const far = new Set<number>();
  // Strays first bend the form: the farthest go, then those that still are.
  for (const level of [8 * STRAY, 2 * STRAY, STRAY]) {
    const form = flatForm(patch, flat);
    for (const block of edgeBlocks(patch, from, to, (i) => free(i) && !far.has(i))) {
      const rest = leftWith(block, form(block) ?? new Float64Array(block.points.length));
      for (const [k, i] of block.points.entries()) if (Math.abs(rest[k]) > level * sigma) far.add(i);
    }
  }
  return (point) => free(point) && !far.has(point);
}

function refined(patch: EdgePatch, blocks: readonly EdgeBlock[], start: FlatRun, sigma: number): FlatRun {
  const low = patch.height[0];
  const high = patch.height[patch.height.length - 1];
  const gain = (flat: Omit<FlatRun, 'gain'>): number => gainOf(blocks, flatForm(patch, flat), sigma);
  let flat = { ...start, gain: gain(start) };
  for (let round = 0; round < ROUNDS; round++) {
    const step = round === 0 ? COARSE : FINE;
    const reach = round === 0 ? MARGIN : 10 * FINE;
    for (const end of ['from', 'to'] as const) {
      const places: { at: number; gain: number }[] = [];
      const first = Math.max(low, flat[end] - reach);
      const last = Math.min(high + 1e-9, flat[end] + reach);
      for (let k = 0; first + k * step < last + step; k++) {
        const at = Math.min(last, first + k * step);
        if (end === 'from' ? at < flat.to - step : at > flat.from + step)
          places.push({ at, gain: gain({ ...flat, [end]: at }) });
      }
      if (places.length === 0) continue;
      const most = places.reduce((a, b) => (b.gain > a.gain ? b : a)).gain;
      let [total, mean] = [0, 0];
      for (const place of places) {
        const weight = Math.exp(0.5 * (place.gain - most));
        total += weight;
        mean += weight * place.at;
      }
      flat = { ...flat, [end]: mean / total };
    }
    const { at } = simplexSearch(
      (p) => -gain({ ...flat, centre: p[0], sagitta: Math.exp(p[1]) }),
      [flat.centre, Math.log(flat.sagitta)],
      [3 * DEG, 0.2],
      0.01,
    );
    flat = { ...flat, centre: at[0], sagitta: Math.exp(at[1]) };
  }
  return { ...flat, gain: gain(flat) };
}

function gainOf(blocks: readonly EdgeBlock[], form: BlockForm, sigma: number): number {
  let sum = 0;
  for (const block of blocks) {
    const own = form(block);
    if (!own) return -1e9;
    const { square, cross } = effectOn(block, own);
    sum += 2 * cross - square;
  }
  return sum / (sigma * sigma);
}

/** Standard uncertainty of the sagitta by what a small change of it does to the points. */
function sagittaNoise(patch: EdgePatch, blocks: readonly EdgeBlock[], flat: FlatRun, sigma: number): number {
  const step = 0.05 * flat.sagitta;
  const deeper = flatForm(patch, { ...flat, sagitta: flat.sagitta + step });
  const less = flatForm(patch, { ...flat, sagitta: flat.sagitta - step });
  let sum = 0;
  for (const block of blocks) {
    const [a, b] = [deeper(block), less(block)];
    if (a && b)
      sum += effectOn(
        block,
        a.map((v, k) => (v - b[k]) / (2 * step)),
      ).square;
  }
  return sum > 0 ? sigma / Math.sqrt(sum) : flat.sagitta;
}

/** Largest gain of a smooth change of form over the run of a flat, of its own amount in each block. */
function rivalGain(patch: EdgePatch, blocks: readonly EdgeBlock[], { from, to }: FlatRun, sigma: number): number {
  const gains = EDGE_MODES.map(({ at }) => {
    let sum = 0;
    for (const block of blocks) {
      const { square, cross } = effectOn(block, formOf(patch, block, from, to, at));
      if (square > 1e-9) sum += (cross * cross) / square;
    }
    return sum / (sigma * sigma);
  });
  return Math.max(...gains);
}
