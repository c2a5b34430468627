import { fitOutline } from '../fit/fit-outline.ts';
import { orderedFeet } from '../fit/ordered-feet.ts';
import { evaluateOutline } from '../fit/outline-evaluate.ts';
import { outlineFeet } from '../fit/outline-foot.ts';
import { findSectionEdges, type SectionEdgesOptions } from '../fit/section-edges.ts';
import { joined } from '../math/joined.ts';
import type { FittedOutline, Outline, SectionEdges } from '../model/outline.ts';
import type { SectionPoints } from '../model/shape.ts';
import { prepareSection } from '../section/prepare-section.ts';

/** The smooth path through the points of one section, all its passes together; arrays run along the path. */
export interface SectionPath {
  id: string;
  height: number;
  fitted: FittedOutline;
  outline: Outline;
  edges: SectionEdges;
  /** False when the points left an end open. */
  closed: boolean;
  /** Standard deviation of a point along the path's normal (mm). */
  sigma: number;
  /** Points as given, x0, y0, … (mm), and their feet: parameter, place, unit outward normal in the plane, distance. */
  points: Float64Array;
  parameter: Float64Array;
  foot: Float64Array;
  normal: Float64Array;
  distance: Float64Array;
  /** Number of each point's pass, from 0, and its place among all points of the section, first pass first. */
  pass: Uint8Array;
  source: Uint32Array;
}

/** Noise widths by which the distance may grow from one point to the next. */
const FOOT_JUMP = 8;

/**
 * Returns the smooth closed path through a section's points with each point's foot on it. Further passes are laid in
 * between the points of the first by their feet, and all are fitted together; of an open section the first pass counts.
 */
export function sectionPath(section: SectionPoints, options: SectionEdgesOptions): SectionPath {
  const { points, pass, source, fitted, closed } = gather(section);
  const { outline } = fitted;
  const { sigma } = fitted.noise;
  const count = points.length / 2;
  const parameter = new Float64Array(count);
  const distance = new Float64Array(count);
  const guess = orderedFeet(outline, points, FOOT_JUMP * sigma).parameters;
  outlineFeet(outline, points, guess, parameter, distance);
  const foot = new Float64Array(2 * count);
  const normal = new Float64Array(2 * count);
  const out = new Float64Array(8);
  for (let i = 0; i < count; i++) {
    // The last point of an open outline belongs to the stretch before its corner.
    evaluateOutline(outline, parameter[i], out, !closed && i === count - 1 ? 'before' : 'after');
    const speed = Math.hypot(out[2], out[3]);
    foot[2 * i] = out[0];
    foot[2 * i + 1] = out[1];
    normal[2 * i] = out[3] / speed;
    normal[2 * i + 1] = -out[2] / speed;
  }
  const edges = findSectionEdges(outline, options);
  const { id, height } = section;
  return { id, height, fitted, outline, edges, closed, sigma, points, parameter, foot, normal, distance, pass, source };
}

type Gathered = Pick<SectionPath, 'points' | 'pass' | 'source' | 'fitted' | 'closed'>;

function gather(section: SectionPoints): Gathered {
  const first = prepareSection(section.points);
  const fitted = fitOutline(first.points, first.closed ? {} : { corners: first.corners });
  const count = first.points.length / 2;
  if (section.again === undefined || !first.closed) {
    return {
      points: first.points,
      pass: new Uint8Array(count),
      source: first.source,
      fitted,
      closed: first.closed,
    };
  }
  const places = Array.from(first.source, (source, i) => ({ t: fitted.parameters[i], pass: 0, source }));
  let before = section.points.length / 2;
  for (const [k, given] of section.again.entries()) {
    const further = prepareSection(given);
    const { parameters } = orderedFeet(fitted.outline, further.points, FOOT_JUMP * fitted.noise.sigma);
    for (const [i, t] of parameters.entries()) places.push({ t, pass: k + 1, source: before + further.source[i] });
    before += given.length / 2;
  }
  places.sort((a, b) => a.t - b.t || a.source - b.source);
  const all = joined([section.points, ...section.again]);
  const [x, y] = [(i: number) => all[2 * i], (i: number) => all[2 * i + 1]];
  const kept = places.filter(({ source }, k) => {
    const previous = places[k === 0 ? places.length - 1 : k - 1].source;
    return x(source) !== x(previous) || y(source) !== y(previous);
  });
  const points = Float64Array.from(kept.flatMap(({ source }) => [x(source), y(source)]));
  return {
    points,
    pass: Uint8Array.from(kept, (place) => place.pass),
    source: Uint32Array.from(kept, (place) => place.source),
    fitted: fitOutline(points),
    closed: true,
  };
}
