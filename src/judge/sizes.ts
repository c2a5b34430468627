import type { Polyline, SectionResult } from '../model/results.ts';
import type { Value } from '../model/value.ts';
import type { CatalogueEntry } from './catalogue.ts';
import type { Size } from './effects.ts';

const NO_SIZE: Size = { chord: null, perimeter: null, momentGain: null };

/**
 * What turns errors at the surface into errors of a section's quantity; the nominal's size stands in for what was not
 * measured.
 * @param value of the quantity; one of a second moment tells its centre and its axis
 */
export function sizeOf(section: SectionResult, value: Value | null): Size {
  const { measured, nominal } = section;
  const outline = section.plot?.measured ?? section.plot?.nominal;
  return {
    chord: measured?.chordFar.value ?? nominal?.chordFar.value ?? null,
    perimeter: measured?.perimeter.value ?? nominal?.perimeter.value ?? null,
    momentGain: outline && value ? momentGain(outline, value) : null,
  };
}

/** Which product of distances from the axes each second moment integrates; the last two from the principal axes. */
const PRODUCTS: Record<string, (x: number, y: number, along: number, across: number) => number> = {
  'I-XX': (_x, y) => y * y,
  'I-YY': (x) => x * x,
  'I-XY': (x, y) => x * y,
  'I-1': (_x, _y, _along, across) => across * across,
  'I-2': (_x, _y, along) => along * along,
};

/** Change of a second moment for a surface grown by 1 mm: its product of distances round the outline. */
function momentGain({ x, y }: Polyline, { definition, evidence = {} }: Value): number | null {
  const product = PRODUCTS[definition];
  const { centroidX, centroidY, axisDeg } = evidence;
  if (!product || typeof centroidX !== 'number' || typeof centroidY !== 'number') return null;
  const axis = typeof axisDeg === 'number' ? (axisDeg * Math.PI) / 180 : 0;
  const [cos, sin] = [Math.cos(axis), Math.sin(axis)];
  let sum = 0;
  for (let i = 0; i < x.length; i++) {
    const j = (i + 1) % x.length;
    const dx = (x[i] + x[j]) / 2 - centroidX;
    const dy = (y[i] + y[j]) / 2 - centroidY;
    sum += product(dx, dy, dx * cos + dy * sin, dy * cos - dx * sin) * Math.hypot(x[j] - x[i], y[j] - y[i]);
  }
  return Math.abs(sum);
}

/** Lever of a quantity of the whole span: its height for a slope, the smallest chord over √2 for a difference of angles. */
export function spanSize(entry: CatalogueEntry, sections: readonly SectionResult[]): Size {
  const heights = sections.filter((section) => section.cut === undefined).map((section) => section.height);
  const chords = sections.map((section) => sizeOf(section, null).chord).filter((chord) => chord !== null);
  const height = Math.max(...heights) - Math.min(...heights);
  const smallest = Math.min(...chords) / Math.SQRT2;
  const lever = entry.of === 'untwistDeg' ? smallest : height;
  return lever > 0 && Number.isFinite(lever) ? { ...NO_SIZE, chord: lever } : NO_SIZE;
}
