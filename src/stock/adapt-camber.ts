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
