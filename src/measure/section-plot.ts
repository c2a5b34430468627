import { type ArcTable, arcTable, lengthAtParameter } from '../fit/outline-arc-table.ts';
import { evaluateOutline, outlineKnotSpans } from '../fit/outline-evaluate.ts';
import type { Outline, SectionEdges } from '../model/outline.ts';
import type { Polyline, SectionResult } from '../model/results.ts';
import type { CarriedSection } from '../section/carry-points.ts';
import type { OutlineGap } from '../section/outline-gaps.ts';
import type { FlankName } from './definitions/definition.ts';
import { WAVINESS_DEFAULTS } from './definitions/waviness-definitions.ts';
import type { SectionContext } from './section-context.ts';
import { wavinessTrace } from './waviness.ts';

type Plot = NonNullable<SectionResult['plot']>;

/** Points drawn of one outline, at most. */
const MOST_POINTS = 420;

/** Returns an outline as a polyline, counter-clockwise from the leading edge, denser where it turns. */
export function outlinePlot(outline: Outline, edges: SectionEdges): Polyline {
  const table: ArcTable = arcTable(outline, edges.leading);
  const spans = outlineKnotSpans(outline);
  const parts = Math.max(1, Math.min(4, Math.floor(MOST_POINTS / spans.length)));
  const skip = Math.max(1, Math.ceil(spans.length / MOST_POINTS));
  const start = edges.leading;
  const wrap = (t: number): number => t - outline.period * Math.floor((t - start) / outline.period);
  const parameters = [start];
  for (let i = 0; i < spans.length; i += skip) {
    const from = spans[i];
    const next = i + skip < spans.length ? spans[i + skip] : spans[0] + outline.period;
    for (let k = 0; k < parts; k++) parameters.push(wrap(from + ((next - from) * k) / parts));
  }
  parameters.sort((a, b) => a - b);
  const firstLength = lengthAtParameter(table, edges.trailing);
  const sign = edges.firstSide === 'pressure' ? 1 : -1;
  const x: number[] = [];
  const y: number[] = [];
  const along: number[] = [];
  const out = new Float64Array(8);
  parameters.forEach((t, i) => {
    if (i > 0 && t - parameters[i - 1] < 1e-9 * outline.period) return;
    evaluateOutline(outline, t, out);
    const length = lengthAtParameter(table, t);
    x.push(out[0]);
    y.push(out[1]);
    along.push(sign * (length <= firstLength ? length : length - table.perimeter));
  });
  return { x, y, along };
}

/** Returns the line of centres with the radii of its inscribed circles, end circles included; null when there is none. */
export function camberPlot(context: SectionContext): Plot['camber'] {
  const { line } = context;
  if (line === null) return null;
  const circles = [line.leading, ...line.circles, line.trailing];
  return {
    x: circles.map((circle) => circle.x),
    y: circles.map((circle) => circle.y),
    radius: circles.map((circle) => circle.radius),
  };
}

/** A drawn deviation is the mean of at least this many points … */
const TRACE_POINTS = 12;
/** … unless they would have to come from farther than this along the outline (mm). */
const TRACE_REACH = 0.15;

/**
 * Returns the deviation along the nominal outline at the middles between the surface's columns: the mean of the carried
 * points nearby; null in gaps and where no point lies.
 */
export function deviationPlot(
  section: CarriedSection,
  gaps: readonly OutlineGap[],
  noise: number,
): Pick<Plot, 'along' | 'deviation' | 'u'> {
  const { columns } = section.on.surface;
  const turn = columns[columns.length - 1] - columns[0];
  const sums = new Float64Array(section.u.length + 1);
  section.deviation.forEach((d, i) => {
    sums[i + 1] = sums[i] + d;
  });
  const kept = Array.from(columns).filter((u, c) => c === 0 || u > columns[c - 1]);
  const along: number[] = [];
  const deviation: (number | null)[] = [];
  const u: (number | null)[] = [];
  let from = 0;
  let to = 0;
  for (let c = 0; c + 1 < kept.length; c++) {
    const middle = (kept[c] + kept[c + 1]) / 2;
    while (to < section.u.length && section.u[to] < kept[c + 1]) to++;
    while (from < to && section.u[from] < kept[c]) from++;
    let a = from;
    let b = to;
    while (b - a < TRACE_POINTS) {
      const left = a > 0 ? middle - section.u[a - 1] : Infinity;
      const right = b < section.u.length ? section.u[b] - middle : Infinity;
      if (Math.min(left, right) > TRACE_REACH) break;
      if (left < right) a--;
      else b++;
    }
    const inGap = gaps.some(([start, end]) => (middle > start && middle < end) || middle + turn < end);
    const measured = b > a && !inGap;
    along.push(section.on.alongAt(middle));
    deviation.push(measured ? (sums[b] - sums[a]) / (b - a) : null);
    u.push(measured ? noise / Math.sqrt(b - a) : null);
  }
  return { along, deviation, u };
}

/**
 * Returns the waves of both flanks between the default cut-offs, each from the leading towards the trailing edge;
 * undefined where the edge zones leave no flank.
 */
export function wavinessPlot(nominal: SectionContext, measured: SectionContext): Plot['waviness'] {
  const of = (flank: FlankName) => {
    const trace = wavinessTrace(nominal, measured, flank, WAVINESS_DEFAULTS);
    if (!trace) return null;
    const sign = flank === 'suction' ? -1 : 1;
    return {
      along: Array.from(trace.along, (s) => sign * s),
      waves: Array.from(trace.waves, (d) => (Number.isNaN(d) ? null : d)),
    };
  };
  const [suction, pressure] = [of('suction'), of('pressure')];
  return suction && pressure ? { suction, pressure } : undefined;
}
