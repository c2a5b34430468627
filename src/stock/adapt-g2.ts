import { risesAndFalls } from './adapt-curvature.ts';
import { conicEdge, type EdgeFlanks } from './adapt-edge.ts';
import type { JunctionSetbacks } from './adapt-section.ts';
import { edgeConic } from './edge-conic.ts';
import type { ConicForm, EdgeCurve, NoseLine } from './edge-curve.ts';
import { smoothEdge } from './edge-g2.ts';
import type { EdgeWish } from './edge-g2-wishes.ts';

/** What an edge with continuous curvature is made for. */
export interface BentTask {
  flanks: EdgeFlanks;
  line: NoseLine;
  /** Set-backs of the junctions of the conic it takes the place of (mm). */
  setbacks: JunctionSetbacks;
  /** Greatest set-back (mm). */
  most: number;
  /** Wanted nose (mm), and thickness at set-backs (mm). */
  nose: { x: number; y: number };
  thickness: readonly { setback: number; value: number }[];
  form: ConicForm;
}

/** How much farther back than the conic's the junctions lie, and which wishes are kept. */
export interface BentWay {
  reach: number;
  keepsNose: boolean;
  keepsThickness: boolean;
}

/** Junctions tried, in set-backs of the conic: curvature needs room to rise from the flank's to the nose's. */
const REACHES = [1, 1.3, 1.7, 2.2, 2.8, 3.6, 4.6];
/** Share of the nearer junction's set-back below which a curve can be told how thick to be. */
const INSIDE = 0.9;
const KEPT = [
  [true, true],
  [false, true],
  [true, false],
  [false, false],
] as const;

/** Returns the first way, nearest junctions and most wishes first, whose curvature rises to the nose; null without any. */
export function bentWay(task: BentTask): BentWay | null {
  for (const [keepsNose, keepsThickness] of KEPT)
    for (const reach of REACHES) {
      if (reach * Math.max(task.setbacks.suction, task.setbacks.pressure) > task.most) break;
      const way = { reach, keepsNose, keepsThickness };
      if (keepsThickness && !thicknessInside(task, reach)) continue;
      const curve = bentEdge(task, way);
      if (curve && risesAndFalls(curve.curvature)) return way;
    }
  return null;
}

/** True when the first set-back that a thickness is held at lies before both junctions, or all of them behind both. */
function thicknessInside({ setbacks, thickness }: BentTask, reach: number): boolean {
  const [low, high] = [Math.min(setbacks.suction, setbacks.pressure), Math.max(setbacks.suction, setbacks.pressure)];
  return thickness.every(({ setback }, i) => setback >= reach * high || (i === 0 && setback < INSIDE * reach * low));
}

/** Returns the edge of least change of curvature in a way; null where there is none. */
export function bentEdge(task: BentTask, way: BentWay): EdgeCurve | null {
  const { flanks, line, nose, form } = task;
  const setbacks = { suction: way.reach * task.setbacks.suction, pressure: way.reach * task.setbacks.pressure };
  const start = conicEdge(flanks, line, setbacks, form);
  if (typeof start === 'string') return null;
  const conic = edgeConic(start.junctions[0], start.junctions[1], line);
  if (typeof conic === 'string') return null;
  const out = new Float64Array(8);
  conic.evaluate(conic.noseAt, out);
  const speed = Math.hypot(out[2], out[3]);
  const noseAlong = ((nose.x - line.x) * out[2] + (nose.y - line.y) * out[3]) / speed;
  const held = task.thickness.find(({ setback }) => setback < INSIDE * Math.min(setbacks.suction, setbacks.pressure));
  const wish: EdgeWish = {
    ...(way.keepsNose ? { noseAlong } : {}),
    ...(way.keepsThickness && held ? { thickness: held } : {}),
  };
  return smoothEdge(start.junctions, line, conic, { ...wish, form, ratio: start.ratio })?.curve ?? null;
}
