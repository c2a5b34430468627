import { POINT_OUTLIER, POINT_USED, type Relation } from '../model/relation.ts';
import type { NominalSurface } from '../model/surface.ts';
import { type Departures, spanDepartures } from './faults-background.ts';
import { type FaultCluster, faultClusters } from './faults-cluster.ts';
import { type FaultForm, fitFaultForm } from './faults-form.ts';
import { type FaultLattice, faultLattice } from './faults-lattice.ts';
import { findEdgeFlats, withFlats } from './flats-find.ts';
import { lengthPerU } from './length-per-u.ts';

export interface FaultOptions {
  /** Departures less deep than this are not listed (mm). */
  leastDepth: number;
  /** Larger departures than this are form, not local (mm). */
  mostExtent: number;
}

const FAULT_DEFAULTS: FaultOptions = { leastDepth: 0.015, mostExtent: 4 };

/** A nick or bump on the nominal surface, or a flat along one of its edges. */
export interface LocalFault extends Pick<FaultForm, 'depth' | 'uDepth' | 'profile'> {
  kind: 'nick' | 'bump' | 'flat';
  /** Centre: position along the outline (as `u` of the surface) and height (mm). */
  u: number;
  height: number;
  /** Extents along the outline and the span (mm). */
  width: number;
  length: number;
  /** Length along the outline a unit of `u` there. */
  stretch: number;
  /** Points that depart, indices in the relation. */
  members: number[];
}

/** Noise below this (mm) is taken for it: exact points still differ from a fitted nominal by so much. */
const LEAST_NOISE = 5e-4;

/**
 * Returns nicks, bumps and flats, the deepest first: connected local departures from the smooth surface round them (see
 * `spanDepartures`, `faultClusters`), each with the place, extents and depth of a fitted form, and flats of the edges (see
 * `findEdgeFlats`).
 * @param noise standard deviation of a point along the normal (mm)
 */
export function findLocalFaults(
  surface: NominalSurface,
  relation: Relation,
  noise: number,
  options: FaultOptions = FAULT_DEFAULTS,
): LocalFault[] {
  const sigma = Math.max(noise, LEAST_NOISE);
  const departures = spanDepartures(surface, relation, sigma);
  const lattice = faultLattice(surface, relation, departures, sigma);
  const clusters = faultClusters(relation, lattice, departures.departure, sigma);
  const faults = clusters.flatMap((cluster) => {
    const fault = describe(surface, relation, departures, lattice, cluster, sigma, options.mostExtent);
    return fault && Math.abs(fault.depth) >= options.leastDepth ? [fault] : [];
  });
  const flats = findEdgeFlats(surface, relation, departures, faults, sigma);
  return withFlats(surface, faults, flats).sort(
    (a, b) => Math.abs(b.depth) - Math.abs(a.depth) || a.height - b.height || a.u - b.u,
  );
}

/** Takes the points of faults, where they were set aside as strays, back into use; returns those taken back. */
export function keepFaultPoints(relation: Relation, faults: readonly LocalFault[]): Set<number> {
  const kept = new Set<number>();
  for (const { members } of faults) {
    for (const i of members) {
      if (relation.flag[i] !== POINT_OUTLIER) continue;
      relation.flag[i] = POINT_USED;
      kept.add(i);
    }
  }
  return kept;
}

function describe(
  surface: NominalSurface,
  relation: Relation,
  departures: Departures,
  lattice: FaultLattice,
  cluster: FaultCluster,
  noise: number,
  mostExtent: number,
): LocalFault | null {
  const { columns } = surface;
  const period = columns[columns.length - 1] - columns[0];
  const { members, sign } = cluster;
  const u0 = relation.u[members[0]];
  const h0 = relation.height[members[0]];
  const stretch = lengthPerU(surface, u0, h0);
  const x = (i: number): number => {
    const du = relation.u[i] - u0;
    return stretch * (du - period * Math.round(du / period));
  };
  const y = (i: number): number => relation.height[i] - h0;
  const box: [number, number, number, number] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const i of members) {
    box[0] = Math.min(box[0], x(i));
    box[1] = Math.max(box[1], x(i));
    box[2] = Math.min(box[2], y(i));
    box[3] = Math.max(box[3], y(i));
  }
  if (Math.max(box[1] - box[0], box[3] - box[2]) > mostExtent) return null;
  const spacing = 1 / Math.sqrt(departures.density);
  const near = thinned(pointsNear(relation, lattice, box, u0, h0, stretch, 4 * spacing, departures.departure));
  const points = {
    x: Float64Array.from(near, x),
    y: Float64Array.from(near, y),
    departure: Float64Array.from(near, (i) => departures.departure[i]),
  };
  const form = fitFaultForm(points, box, sign, spacing, noise);
  const u = u0 + form.x / stretch;
  return {
    kind: sign < 0 ? 'nick' : 'bump',
    u: u - period * Math.floor((u - columns[0]) / period),
    height: h0 + form.y,
    width: 2 * form.halfWidth,
    length: 2 * form.halfLength,
    stretch,
    depth: form.depth,
    uDepth: form.uDepth,
    profile: form.profile,
    members,
  };
}

/** At most so many points tell a form; evenly taken from more. */
const MOST_POINTS = 400;

function thinned(points: number[]): number[] {
  const step = Math.max(1, points.length / MOST_POINTS);
  return Array.from({ length: Math.floor(points.length / step) }, (_, k) => points[Math.floor(k * step)]);
}

/** Indices of the points within a box and a margin round it. */
function pointsNear(
  relation: Relation,
  lattice: FaultLattice,
  box: readonly [number, number, number, number],
  u0: number,
  h0: number,
  stretch: number,
  margin: number,
  departure: Float64Array,
): number[] {
  const { columns, rows, width, height, uMin, low, start, points } = lattice;
  const column = (x: number) => Math.floor((u0 + x / stretch - uMin) / width);
  const row = (y: number) => Math.min(rows - 1, Math.max(0, Math.floor((h0 + y - low) / height)));
  const found: number[] = [];
  for (let r = row(box[2] - margin); r <= row(box[3] + margin); r++) {
    for (let c = column(box[0] - margin); c <= column(box[1] + margin); c++) {
      const k = r * columns + (((c % columns) + columns) % columns);
      for (let j = start[k]; j < start[k + 1]; j++) if (!Number.isNaN(departure[points[j]])) found.push(points[j]);
    }
  }
  return found.filter((i) => relation.flag[i] === POINT_USED || relation.flag[i] === POINT_OUTLIER);
}
