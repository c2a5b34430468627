import { contourAt, contourOf, contourPoint } from '../measure/contour.ts';
import { cutAtStation } from '../measure/cut-thickness.ts';
import type { Outline } from '../model/outline.ts';
import type { EdgeFrame, SectionFrame } from './adapt-frame.ts';
import type { EdgeSettings } from './adapt-settings.ts';

const place = contourPoint();
const STATIONS = 7;
/** Least length of flank the line of middles is taken over (mm), and in edge zones. */
const LEAST_LENGTH = 3;
const ZONES = 2;

/** Coordinate of a point to the left of the chord (mm). */
export function acrossOf(frame: SectionFrame, x: number, y: number): number {
  return y * frame.dirX - x * frame.dirY;
}

/**
 * Returns the middle between both sides of an outline at a set-back from a nose line, to the left of the chord (mm); null
 * where it is shorter.
 * @param nose parameter of the outline near its end
 */
function middleAcross(
  frame: SectionFrame,
  edge: EdgeFrame,
  outline: Outline,
  nose: number,
  setback: number,
): number | null {
  const { inX, inY, x, y } = edge.line;
  const cut = cutAtStation(contourOf(outline), nose, inX, inY, x * inX + y * inY + setback);
  if (!cut) return null;
  contourAt(outline, cut.before, place);
  const before = acrossOf(frame, place.x, place.y);
  contourAt(outline, cut.after, place);
  return 0.5 * (before + acrossOf(frame, place.x, place.y));
}

/**
 * Returns how far the line of middles between the flanks lies to the left of the nominal's at the nose: a straight line
 * through the differences behind the edge zone, carried on to the nose (mm). Null where the section is too short.
 * @param outline with the flanks as measured, and `nose` its parameter near this edge
 */
export function middleShift(
  frame: SectionFrame,
  edge: EdgeFrame,
  settings: EdgeSettings,
  outline: Outline,
  nose: number,
): number | null {
  const length = Math.max(LEAST_LENGTH, ZONES * settings.zone);
  let [sx, sy, sxx, sxy] = [0, 0, 0, 0];
  for (let i = 0; i < STATIONS; i++) {
    const setback = settings.zone + (length * i) / (STATIONS - 1);
    const now = middleAcross(frame, edge, outline, nose, setback);
    const nominal = middleAcross(frame, edge, frame.nominal.outline, edge.nose, setback);
    if (now === null || nominal === null) return null;
    sx += setback;
    sy += now - nominal;
    sxx += setback * setback;
    sxy += setback * (now - nominal);
  }
  const slope = (STATIONS * sxy - sx * sy) / (STATIONS * sxx - sx * sx);
  return (sy - slope * sx) / STATIONS;
}

/**
 * Returns the direction of the nominal's line of middles at a nose, inwards: the parabola through its middles at one, one
 * and a half and two times a set-back, carried on to the nose. Null where the section is too short.
 */
export function middleDirection(
  frame: SectionFrame,
  edge: EdgeFrame,
  setback: number,
): { x: number; y: number } | null {
  const at = (times: number) => middleAcross(frame, edge, frame.nominal.outline, edge.nose, times * setback);
  const [a, b, c] = [at(1), at(1.5), at(2)];
  if (a === null || b === null || c === null) return null;
  const [near, far] = [(b - a) / (0.5 * setback), (c - b) / (0.5 * setback)];
  const bend = (far - near) / (0.5 * setback);
  const slope = near - 1.25 * setback * bend;
  const { inX, inY } = edge.line;
  const size = Math.hypot(1, slope);
  return { x: (inX - slope * frame.dirY) / size, y: (inY + slope * frame.dirX) / size };
}
