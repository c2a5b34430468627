import { type NominalOutline, nominalOutline } from '../fit/nominal-outline.ts';
import { farChord } from '../measure/chord-far.ts';
import { contourAt, contourOf, contourPoint } from '../measure/contour.ts';
import { cutThickness } from '../measure/cut-thickness.ts';
import type { AdaptedEdge } from '../model/adapt-results.ts';
import type { NominalSurface } from '../model/surface.ts';
import { levelSection, type SurfaceSection } from '../section/surface-section.ts';
import { distanceInside, type NoseLine } from './edge-curve.ts';

/** One edge of the nominal section: its nose line at an end of the longest chord, normal to the chord. */
export interface EdgeFrame {
  edge: AdaptedEdge['edge'];
  line: NoseLine;
  /** Parameter of the nose on the nominal outline. */
  nose: number;
}

/** Where the edges of a section are to lie. */
export interface SectionFrame {
  id: string;
  height: number;
  on: SurfaceSection;
  nominal: NominalOutline;
  /** Longest chord of the nominal (mm) and its unit direction from leading to trailing edge. */
  chord: number;
  dirX: number;
  dirY: number;
  leading: EdgeFrame;
  trailing: EdgeFrame;
}

const place = contourPoint();

/** Returns the frame of the nominal section at a height of the surface. */
export function sectionFrame(surface: NominalSurface, id: string, height: number): SectionFrame {
  const on = levelSection(surface, height);
  const nominal = nominalOutline(on);
  const { outline, edges } = nominal;
  contourAt(outline, edges.leading, place);
  const far = farChord(contourOf(outline), place.x, place.y);
  const dirX = (far.trailingX - far.leadingX) / far.length;
  const dirY = (far.trailingY - far.leadingY) / far.length;
  return {
    id,
    height,
    on,
    nominal,
    chord: far.length,
    dirX,
    dirY,
    leading: {
      edge: 'leading-edge',
      line: { x: far.leadingX, y: far.leadingY, inX: dirX, inY: dirY },
      nose: far.leadingT,
    },
    trailing: {
      edge: 'trailing-edge',
      line: { x: far.trailingX, y: far.trailingY, inX: -dirX, inY: -dirY },
      nose: far.trailingT,
    },
  };
}

/** Returns the thickness of the nominal normal to the chord at a set-back from the nose (mm), null where it has none. */
export function nominalThickness(frame: SectionFrame, edge: EdgeFrame, setback: number): number | null {
  const { inX, inY } = edge.line;
  return cutThickness(contourOf(frame.nominal.outline), edge.nose, inX, inY, setback)?.thickness ?? null;
}

/** The line moved along the chord (positive towards the trailing edge). */
export function shiftedLine(frame: SectionFrame, line: NoseLine, along: number): NoseLine {
  return { ...line, x: line.x + along * frame.dirX, y: line.y + along * frame.dirY };
}

/** Distance of a point from both nose lines (mm), positive inside. */
export function setbacksOf(frame: SectionFrame, x: number, y: number): { leading: number; trailing: number } {
  return { leading: distanceInside(frame.leading.line, x, y), trailing: distanceInside(frame.trailing.line, x, y) };
}
