import type { Relation } from '../model/relation.ts';
import type { NominalSurface } from '../model/surface.ts';
import { evaluateSurface, PLACE_SIZE } from '../spatial/surface-evaluate.ts';
import type { Departures } from './faults-background.ts';
import { normalQuantile } from './faults-cluster.ts';
import type { LocalFault } from './faults-find.ts';
import { tableAt } from './flats-cut.ts';
import { type EdgePatch, edgePatch, stationNear } from './flats-edge.ts';
import { type FittedFlat, fitFlat } from './flats-fit.ts';
import { scanFlats } from './flats-scan.ts';
import { lengthPerU } from './length-per-u.ts';

/** Chance that noise alone gives a flat on a part. */
const FALSE_ALARM = 1e-3;
/** Shorter (mm of span) or shallower (mm) flats are not told. */
const LEAST_LENGTH = 0.75;
const LEAST_SAGITTA = 0.008;
/** A flat as long as this (mm) has to explain its points better than a smooth change of form does, by this much. */
const LONG = 6;
const LEAD = 10;
/** Span round the ends of a flat (mm) that tells nothing of others. */
const BESIDE = 0.5;
/** A departure counts for no more than this many standard deviations in the search. */
const CLIP = 8;
/** A nick this many times deeper than a chord of its width is none. */
const DEEPER = 2;
/** Share of its extents that a fault takes up from its centre, and a little round it. */
const AROUND = 0.65;

/**
 * Returns flats along the round edges: stretches of the span over which a chord of free place and width, cut from the arc
 * of the edge, explains the points significantly better than an edge moved and smoothly changed in size and form.
 * @param faults nicks and bumps found before; their points take no part, but for those a chord may explain
 * @param sigma standard deviation of a point (mm)
 */
export function findEdgeFlats(
  surface: NominalSurface,
  relation: Relation,
  { departure }: Departures,
  faults: readonly LocalFault[],
  sigma: number,
): LocalFault[] {
  const holes = faults.filter((fault) => !likeChord(surface, fault));
  const kept = (i: number) => !holes.some((fault) => covers(surface, fault, relation.u[i], relation.height[i]));
  return (['leading', 'trailing'] as const).flatMap((which) => {
    const patch = edgePatch(surface, relation, which, kept);
    if (!patch || patch.point.length === 0) return [];
    const calm = patch.deviation.map((d, k) => {
      const off = departure[patch.point[k]];
      return Number.isNaN(off) ? d : d - off + Math.min(CLIP * sigma, Math.max(-CLIP * sigma, off));
    });
    const { runs, tests } = scanFlats(patch, calm, sigma);
    // Both edges share the chance.
    const least = tests > 0 ? normalQuantile(FALSE_ALARM / (2 * tests)) ** 2 : Infinity;
    const flats: FittedFlat[] = [];
    for (const run of runs) {
      // What a flat leaves unexplained must not look like another beside it.
      const free = (k: number) =>
        flats.every(({ from, to }) => patch.height[k] < from - BESIDE || patch.height[k] > to + BESIDE);
      const flat = fitFlat(patch, run, sigma, free);
      if (flat.gain < least || flat.sagitta < LEAST_SAGITTA || flat.to - flat.from < LEAST_LENGTH) continue;
      if (flat.to - flat.from > LONG && flat.gain < flat.rival + LEAD) continue;
      if (flats.every(({ from, to }) => flat.to <= from || flat.from >= to)) flats.push(flat);
    }
    return flats.map((flat) => faultOf(surface, patch, flat));
  });
}

/** Returns the nicks and bumps that are not part of a flat, then the flats. */
export function withFlats(
  surface: NominalSurface,
  faults: readonly LocalFault[],
  flats: readonly LocalFault[],
): LocalFault[] {
  const taken = (fault: LocalFault) =>
    likeChord(surface, fault) && flats.some((flat) => covers(surface, flat, fault.u, fault.height));
  return [...faults.filter((fault) => !taken(fault)), ...flats];
}

/** True for a nick no deeper than what a chord of its width takes off the outline there may look like. */
function likeChord(surface: NominalSurface, { kind, u, height, width, depth, uDepth }: LocalFault): boolean {
  if (kind === 'bump') return false;
  const place = new Float64Array(PLACE_SIZE);
  evaluateSurface(surface, u, height, place);
  const bend = Math.abs(place[3] * place[10] - place[4] * place[9]) / Math.hypot(place[3], place[4]) ** 3;
  return -depth < (DEEPER * (width * width * bend)) / 8 + 3 * uDepth;
}

/** True within a fault and a little round it. */
function covers(surface: NominalSurface, fault: LocalFault, u: number, height: number): boolean {
  const { columns } = surface;
  const period = columns[columns.length - 1] - columns[0];
  const away = u - fault.u;
  const across = Math.abs(away - period * Math.round(away / period)) * fault.stretch;
  return across < AROUND * fault.width && Math.abs(height - fault.height) < AROUND * fault.length;
}

function faultOf(surface: NominalSurface, patch: EdgePatch, flat: FittedFlat): LocalFault {
  const { columns } = surface;
  const period = columns[columns.length - 1] - columns[0];
  const height = 0.5 * (flat.from + flat.to);
  const beyond = patch.nose + tableAt(patch, stationNear(patch, height).u, flat.centre);
  const u = beyond - period * Math.floor((beyond - columns[0]) / period);
  return {
    kind: 'flat',
    u,
    height,
    width: flat.width,
    length: flat.to - flat.from,
    stretch: lengthPerU(surface, u, height),
    depth: -flat.sagitta,
    uDepth: flat.uSagitta,
    // A chord below an arc, but for the fourth power.
    profile: (a) => Math.max(0, 1 - a * a),
    members: flat.points.map((k) => patch.point[k]),
  };
}
