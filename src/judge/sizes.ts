import type { SectionResult } from '../model/results.ts';
import type { CatalogueEntry } from './catalogue.ts';
import type { Size } from './effects.ts';

const NO_SIZE: Size = { chord: null, perimeter: null, momentGain: null };

/** Lengths that turn errors at the surface into errors of a section's quantities. */
export function sizeOf(section: SectionResult): Size {
  const measures = section.measured ?? section.nominal;
  return {
    chord: measures?.chordFar.value ?? null,
    perimeter: measures?.perimeter.value ?? null,
    momentGain: null,
  };
}

/** Lever of a quantity of the whole span: its height for a slope, the smallest chord over √2 for a difference of angles. */
export function spanSize(entry: CatalogueEntry, sections: readonly SectionResult[]): Size {
  const heights = sections.map((section) => section.height);
  const chords = sections.map((section) => sizeOf(section).chord).filter((chord) => chord !== null);
  const height = Math.max(...heights) - Math.min(...heights);
  const smallest = Math.min(...chords) / Math.SQRT2;
  const lever = entry.of === 'untwistDeg' ? smallest : height;
  return lever > 0 && Number.isFinite(lever) ? { ...NO_SIZE, chord: lever } : NO_SIZE;
}
